package railproof.profile;

/**
 * The text of a file exactly as read, with its digest: kept in every run, so that it can be judged again as it was.
 *
 * @param name file name as the user gave it, or {@code built in: NAME}
 * @param text whole text
 * @param sha256 lower-case hex SHA-256 of the text's UTF-8 bytes
 */
public record SourceText(String name, String text, String sha256) {}

package railproof.archive.store;

import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import railproof.base.BadFileException;
import railproof.base.Problem;

/**
 * Where an archive is. A password may come with the address or, better, from the environment or the driver's own
 * password file; it is never shown.
 */
public final class ArchiveAddress {
    /** Name of the SQLite file in a data directory. */
    public static final String FILE = "archive.sqlite";

    private static final String POSTGRESQL = "jdbc:postgresql:";
    private static final Pattern PASSWORD = Pattern.compile("(?i)([?&]password=)([^&]*)");
    private static final Pattern USER_INFO = Pattern.compile("(//[^/?#@:]*:)([^/?#@]*)@");
    private static final String HIDDEN = "***";
    private static final int CONNECT_S = 5;
    private static final int ANSWER_S = 60;

    private final String url;
    private final Optional<Path> file;
    private final List<String> secrets;
    private final String environmentPassword;

    private ArchiveAddress(String url, Optional<Path> file, List<String> secrets, String environmentPassword) {
        this.url = url;
        this.file = file;
        this.secrets = secrets;
        this.environmentPassword = environmentPassword;
    }

    /** The archive of a data directory, in a file of its own. */
    public static ArchiveAddress inFolder(Path dataDirectory) {
        Path file = dataDirectory.resolve(FILE);
        return new ArchiveAddress("jdbc:sqlite:" + file.toAbsolutePath(), Optional.of(file), List.of(), "");
    }

    /**
     * A PostgreSQL database.
     *
     * @param where what problems name, e.g. {@code --archive}
     * @param url {@code jdbc:postgresql://HOST/DATABASE?user=NAME}
     * @param password from the environment; empty if there is none
     * @throws BadFileException if the address is of another kind
     */
    public static ArchiveAddress of(String where, String url, String password) throws BadFileException {
        List<String> secrets = new java.util.ArrayList<>(password.isEmpty() ? List.of() : List.of(password));
        for (Pattern pattern : List.of(PASSWORD, USER_INFO)) {
            Matcher matcher = pattern.matcher(url);
            while (matcher.find()) {
                if (!matcher.group(2).isEmpty()) {
                    secrets.add(matcher.group(2));
                    secrets.add(decoded(matcher.group(2)));
                }
            }
        }
        if (!url.startsWith(POSTGRESQL)) {
            throw new BadFileException(List.of(new Problem(
                    where,
                    0,
                    0,
                    "",
                    "\"" + hidden(url, secrets) + "\" is no address of an archive; allowed is"
                            + " jdbc:postgresql://HOST/DATABASE?user=NAME")));
        }
        return new ArchiveAddress(url, Optional.empty(), List.copyOf(secrets), password);
    }

    /** Whether the address says a password itself. */
    public static boolean holdsPassword(String url) {
        return PASSWORD.matcher(url).find() || USER_INFO.matcher(url).find();
    }

    private static String decoded(String text) {
        try {
            return URLDecoder.decode(text, StandardCharsets.UTF_8);
        } catch (IllegalArgumentException e) {
            return text;
        }
    }

    /** The SQLite file; empty for a server. */
    Optional<Path> file() {
        return file;
    }

    String url() {
        return url;
    }

    Properties properties() {
        Properties properties = new Properties();
        if (file.isEmpty()) {
            properties.setProperty("connectTimeout", String.valueOf(CONNECT_S));
            properties.setProperty("loginTimeout", String.valueOf(2 * CONNECT_S));
            properties.setProperty("socketTimeout", String.valueOf(ANSWER_S));
            properties.setProperty("ApplicationName", "railproof");
            if (!environmentPassword.isEmpty()) {
                properties.setProperty("password", environmentPassword);
            }
        }
        return properties;
    }

    /** A text without any password of this address in it. */
    String hidden(String text) {
        return hidden(text, secrets);
    }

    private static String hidden(String text, List<String> secrets) {
        String safe = PASSWORD.matcher(text).replaceAll("$1" + HIDDEN);
        safe = USER_INFO.matcher(safe).replaceAll("$1" + HIDDEN + "@");
        for (String secret : secrets) {
            safe = safe.replace(secret, HIDDEN);
        }
        return safe;
    }

    /** As it may be shown. */
    @Override
    public String toString() {
        return file.map(Path::toString).orElseGet(() -> hidden(url));
    }
}

package railproof.wire;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * One entry of a device's error queue ({@code <number>,"<text>"}; SCPI-1999 volume 2, 21.8). Only the number decides;
 * wordings differ between devices.
 *
 * @param code the number; 0 is "no error"
 * @param text the device's words, without quotes, possibly empty
 * @param kind what it means for the host
 */
public record ScpiError(int code, String text, ScpiErrorKind kind) {
    private static final Pattern FORM = Pattern.compile("([+-]?\\d{1,5})(?:\\s*,(.*))?");

    /** An entry as the device gave it. */
    public ScpiError(int code, String text) {
        this(code, text, ScpiErrorKind.of(code));
    }

    /** Reads a reply to the error query; empty if it is not one. */
    static Optional<ScpiError> parse(String reply) {
        Matcher form = FORM.matcher(reply);
        if (!form.matches()) {
            return Optional.empty();
        }
        int code = Integer.parseInt(form.group(1));
        if (code < -32768 || code > 32767) {
            return Optional.empty();
        }
        String text = form.group(2) == null ? "" : form.group(2).strip();
        if (text.startsWith("\"")) {
            if (text.length() < 2 || !text.endsWith("\"")) {
                return Optional.empty(); // the closing quote is missing: the reply lost its end
            }
            text = text.substring(1, text.length() - 1);
        }
        return Optional.of(new ScpiError(code, text));
    }

    /** An entry that was taken from the queue but never arrived readable. */
    static ScpiError unread(String trouble) {
        return new ScpiError(0, "error queue could not be read: " + trouble, ScpiErrorKind.LINK_TROUBLE);
    }

    /** For messages: number, words, meaning. */
    public String describe() {
        return code + ",\"" + text + "\" (" + kind.meaning() + ")";
    }
}

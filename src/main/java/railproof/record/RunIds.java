package railproof.record;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import railproof.run.Stage;

/**
 * Run ids: UTC start time, unit serial, stage, as in {@code 20261125T101530Z_LC2107_as-left}. They sort by time and
 * are safe as folder names on every file system, whatever the serial holds.
 */
public final class RunIds {
    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmmss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);
    private static final int LONGEST_SERIAL = 40;
    private static final int LONGEST_NAME = 120;

    private RunIds() {}

    /**
     * The id of a run.
     *
     * @param startedAt wall time of the start
     * @param unitSerial as the operator typed it; any text
     * @param stage before or after the repair
     */
    public static String of(Instant startedAt, String unitSerial, Stage stage) {
        return TIME.format(startedAt) + "_" + serial(unitSerial) + "_" + stage.label();
    }

    /** How a serial stands in the ids of its unit's runs; other serials may stand there the same way. */
    public static String serial(String unitSerial) {
        String serial = clean(unitSerial.replace('_', '-'), LONGEST_SERIAL);
        return serial.isEmpty() ? "no-serial" : serial;
    }

    /**
     * A single file name made from any text: ASCII letters, digits, dot, dash and underscore, starting and ending with
     * a letter or digit. It is never empty, never a path and never a hidden file.
     */
    public static String fileName(String text) {
        String cleaned = clean(text, LONGEST_NAME);
        return cleaned.isEmpty() ? "unnamed" : cleaned;
    }

    private static String clean(String text, int longest) {
        String cleaned = text.replaceAll("[^A-Za-z0-9._-]+", "-").replaceAll("\\.{2,}", ".");
        String cut = cleaned.substring(0, Math.min(longest, cleaned.length()));
        return cut.replaceAll("^[._-]+|[._-]+$", "");
    }
}

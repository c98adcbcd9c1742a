package railproof.wire;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;

/**
 * The last {@value #CAPACITY} exchanges on the links of a rig, one line of fixed width each, to be written into the
 * record when something went wrong. A line reads: time in seconds, direction ({@code >} to the device, {@code <} from
 * it, {@code !} emergency), link, number of bytes, the first {@value #SHOWN} bytes in hexadecimal and as text.
 *
 * <p>Thread: any.
 */
public final class WireTrace {
    /** How many lines are kept. */
    public static final int CAPACITY = 500;

    private static final int SHOWN = 24;

    /** Which way bytes went. */
    public enum Direction {
        /** To the device. */
        SENT('>'),
        /** From the device. */
        RECEIVED('<'),
        /** To the device, past any queue. */
        EMERGENCY('!');

        private final char mark;

        Direction(char mark) {
            this.mark = mark;
        }
    }

    private record Entry(long timeNs, Direction direction, String link, int length, String hex, String text) {}

    private final Deque<Entry> entries = new ArrayDeque<>();

    /**
     * Keeps one portion of bytes.
     *
     * @param timeNs time, ns of the link's clock
     * @param length how many bytes of {@code bytes}, from index 0
     */
    public synchronized void add(long timeNs, Direction direction, String link, byte[] bytes, int length) {
        if (entries.size() == CAPACITY) {
            entries.removeFirst();
        }
        int shown = Math.min(length, SHOWN);
        entries.addLast(new Entry(
                timeNs, direction, link, length, HexFormat.of().formatHex(bytes, 0, shown), printable(bytes, shown)));
    }

    private static String printable(byte[] bytes, int length) {
        StringBuilder text = new StringBuilder(length);
        for (int i = 0; i < length; i++) {
            int b = bytes[i] & 0xFF;
            text.append(b >= 0x20 && b < 0x7F ? (char) b : '.');
        }
        return text.toString();
    }

    /** The lines, oldest first. */
    public synchronized List<String> lines() {
        return entries.stream()
                .map(e -> String.format(
                        Locale.ROOT,
                        "%14.6f %c %-12.12s %6d %-48s |%-24s|",
                        e.timeNs() / 1e9,
                        e.direction().mark,
                        e.link(),
                        e.length(),
                        e.hex(),
                        e.text()))
                .toList();
    }
}

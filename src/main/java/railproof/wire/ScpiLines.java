package railproof.wire;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import railproof.wire.ScpiReplyDecoder.State;

/**
 * Lines out and replies in on one link: terminators, the gap between lines, echoes, deadlines. Knows nothing of what
 * the lines mean.
 *
 * <p>Thread: confined.
 */
final class ScpiLines {
    /** More bytes than this in one go are babble, even if no time passes; nothing legal is longer. */
    private static final int MAX_BYTES = 2 * ScpiReplyDecoder.MAX_BLOCK;

    private final Link link;
    private final ScpiSettings settings;
    private final byte[] chunk = new byte[512];
    private int next;
    private int end;
    private long earliestSendNs;

    ScpiLines(Link link, ScpiSettings settings) {
        this.link = link;
        this.settings = settings;
        this.earliestSendNs = link.clock().nowNs();
    }

    /**
     * Sends a line after the gap and takes its echo, if the device echoes.
     *
     * @return what was wrong with the echo
     */
    Optional<String> send(String line) throws LinkException, InterruptedException {
        checkLine(line);
        awaitGap();
        write(line + settings.terminatorOut());
        if (!settings.echo()) {
            return Optional.empty();
        }
        ScpiReplyDecoder decoder = new ScpiReplyDecoder();
        State state = receive(decoder);
        return state == State.TEXT && decoder.text().equals(line)
                ? Optional.empty()
                : Optional.of("echo of " + line + " differs: " + decoder.trouble());
    }

    /** Sends at once, without gap. */
    void sendNow(String line) throws LinkException {
        checkLine(line);
        write(settings.terminatorOut() + line + settings.terminatorOut());
    }

    static byte[] urgentBytes(ScpiSettings settings, String line) {
        return ascii(settings.terminatorOut() + line + settings.terminatorOut());
    }

    /** Ends a line that the device may have half received. */
    void endHalfLine() throws LinkException, InterruptedException {
        awaitGap();
        write(settings.terminatorOut());
    }

    /** Feeds the decoder until it has enough or the reply timeout is over; {@link State#MORE} then. */
    State receive(ScpiReplyDecoder decoder) throws LinkException, InterruptedException {
        long deadlineNs = link.clock().nowNs() + settings.replyTimeout().toNanos();
        State state = State.MORE;
        for (int taken = 0; state == State.MORE && taken < MAX_BYTES; taken++) {
            if (next == end && !fill(deadlineNs - link.clock().nowNs())) {
                return State.MORE;
            }
            state = decoder.accept(chunk[next++] & 0xFF);
        }
        return state;
    }

    /** Whether more than blanks and line ends has come behind the reply just taken. */
    boolean somethingBehind() {
        while (next < end) {
            if (!blank(chunk[next++])) {
                return true;
            }
        }
        return false;
    }

    /** Whether nothing but blanks is waiting to be read. */
    boolean quietNow() throws LinkException, InterruptedException {
        for (int taken = 0; taken < MAX_BYTES; taken += end) {
            if (somethingBehind()) {
                return false;
            }
            if (!fill(0)) {
                return true;
            }
        }
        return false;
    }

    /**
     * Reads and forgets until nothing has come for a while.
     *
     * @return false if it did not get quiet in {@code longestNs}
     */
    boolean drain(long quietNs, long longestNs) throws LinkException, InterruptedException {
        long deadlineNs = link.clock().nowNs() + longestNs;
        for (int taken = 0; fill(quietNs); taken += end) {
            if (link.clock().nowNs() - deadlineNs >= 0 || taken > MAX_BYTES) {
                return false;
            }
        }
        return true;
    }

    /** Waits by reading, so that whoever watches over the link's waits also watches over this one. */
    private void awaitGap() throws LinkException, InterruptedException {
        long waitNs = earliestSendNs - link.clock().nowNs();
        while (waitNs > 0 && fill(waitNs)) {
            waitNs = earliestSendNs - link.clock().nowNs();
        }
    }

    private boolean fill(long timeoutNs) throws LinkException, InterruptedException {
        next = 0;
        end = 0;
        end = link.read(chunk, Math.max(0, timeoutNs));
        return end > 0;
    }

    private void write(String text) throws LinkException {
        link.write(ascii(text));
        earliestSendNs = link.clock().nowNs() + settings.commandGap().toNanos();
    }

    private void checkLine(String line) throws LinkException {
        if (line.length() > settings.maxLineLength()) {
            throw new LinkException(
                    link.name(),
                    "line \"" + line + "\" has " + line.length() + " characters, the device takes "
                            + settings.maxLineLength());
        }
        if (line.isEmpty() || !line.chars().allMatch(c -> c >= ' ' && c <= '~')) {
            throw new LinkException(link.name(), "line \"" + line + "\" must be plain printable text");
        }
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }

    private static boolean blank(byte b) {
        return b == 0 || b == ' ' || b == '\t' || b == '\r' || b == '\n';
    }
}

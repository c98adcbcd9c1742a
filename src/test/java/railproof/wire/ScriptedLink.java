package railproof.wire;

import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HexFormat;
import railproof.base.Clock;

/**
 * A link that plays a dialogue: each write must be the next one expected, and brings the answer written down for it.
 * Waiting for an answer that is not in the script takes the whole time-out.
 */
public final class ScriptedLink implements Link {
    private static final class Turn {
        private final byte[] expected;
        private final byte[] answer;

        Turn(byte[] expected, byte[] answer) {
            this.expected = expected;
            this.answer = answer;
        }
    }

    private final Clock clock;
    private final Deque<Turn> turns = new ArrayDeque<>();
    private final ByteQueue inbox = new ByteQueue(1 << 20);
    private boolean closed;

    public ScriptedLink(Clock clock) {
        this.clock = clock;
    }

    /** Adds a turn of bytes. */
    public ScriptedLink on(byte[] expected, byte[] answer) {
        turns.addLast(new Turn(expected, answer));
        return this;
    }

    /** Adds a turn of text, ASCII. */
    public ScriptedLink on(String expected, String answer) {
        return on(expected.getBytes(StandardCharsets.US_ASCII), answer.getBytes(StandardCharsets.US_ASCII));
    }

    /** Fails unless the whole dialogue was played. */
    public void assertFinished() {
        if (!turns.isEmpty()) {
            throw new AssertionError(turns.size() + " turns not played, next: "
                    + HexFormat.ofDelimiter(" ").formatHex(turns.getFirst().expected));
        }
    }

    public boolean closed() {
        return closed;
    }

    @Override
    public String name() {
        return "scripted";
    }

    @Override
    public Clock clock() {
        return clock;
    }

    @Override
    public void write(byte[] bytes) {
        HexFormat hex = HexFormat.ofDelimiter(" ");
        Turn turn = turns.pollFirst();
        if (turn == null) {
            throw new AssertionError("the script is over, but this was written: " + hex.formatHex(bytes));
        }
        if (!java.util.Arrays.equals(turn.expected, bytes)) {
            throw new AssertionError(
                    "expected " + hex.formatHex(turn.expected) + " but written was " + hex.formatHex(bytes));
        }
        inbox.put(turn.answer, turn.answer.length);
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws InterruptedException {
        int count = inbox.take(into);
        if (count == 0) {
            clock.sleepNs(timeoutNs);
        }
        return count;
    }

    @Override
    public void discardInput() {
        inbox.clear();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        write(bytes);
        return true;
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return () -> {};
    }

    @Override
    public void close() {
        closed = true;
    }
}

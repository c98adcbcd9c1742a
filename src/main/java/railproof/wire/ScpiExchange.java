package railproof.wire;

import java.util.Arrays;
import java.util.Optional;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import railproof.wire.ScpiReplyDecoder.State;

/**
 * One line out, one reply in, asked once; remembers whether the two sides are still in step, and what went wrong last.
 * Thread: confined.
 */
final class ScpiExchange {
    private final ScpiLines lines;
    private boolean outOfStep;
    private String trouble = "";

    ScpiExchange(ScpiLines lines) {
        this.lines = lines;
    }

    /** Text or block; exactly one is there. */
    static final class Reply {
        private final @Nullable String text;
        private final byte @Nullable [] block;

        private Reply(@Nullable String text, byte @Nullable [] block) {
            this.text = text;
            this.block = block == null ? null : Arrays.copyOf(block, block.length);
        }

        Optional<String> text() {
            return Optional.ofNullable(text);
        }

        Optional<byte[]> block() {
            return Optional.ofNullable(block).map(byte[]::clone);
        }
    }

    boolean outOfStep() {
        return outOfStep;
    }

    void outOfStep(boolean value) {
        outOfStep = value;
    }

    /** What went wrong last, in words; or the last reply. */
    String trouble() {
        return trouble;
    }

    void trouble(String words) {
        trouble = words;
    }

    /** Sends a line that has no reply; false if its echo was wrong. */
    boolean tell(String line) throws LinkException, InterruptedException {
        boolean finished = false;
        try {
            Optional<String> echoTrouble = lines.send(line);
            echoTrouble.ifPresent(this::trouble);
            finished = echoTrouble.isEmpty();
            return finished;
        } finally {
            outOfStep |= !finished;
        }
    }

    /** Asks once for a line of text; empty if no reply came that {@code reader} can use. */
    <T> Optional<T> askText(String query, Function<String, Optional<T>> reader)
            throws LinkException, InterruptedException {
        return ask(query, reply -> reply.text().flatMap(reader));
    }

    /** Asks once; empty if no usable reply came, and then the two sides are out of step. */
    <T> Optional<T> ask(String query, Function<Reply, Optional<T>> reader) throws LinkException, InterruptedException {
        Optional<T> answer = Optional.empty();
        try {
            answer = reply(query).flatMap(reader);
        } catch (LinkTimeoutException e) {
            trouble = String.valueOf(e.getMessage());
        } finally {
            // also when an exception passes through: its reply may still come
            outOfStep |= answer.isEmpty();
        }
        return answer;
    }

    private Optional<Reply> reply(String query) throws LinkException, InterruptedException {
        Optional<String> echoTrouble = lines.send(query);
        if (echoTrouble.isPresent()) {
            trouble = echoTrouble.get();
            return Optional.empty();
        }
        ScpiReplyDecoder decoder = new ScpiReplyDecoder();
        State state = lines.receive(decoder);
        if (state == State.MORE || state == State.BAD) {
            trouble = "got " + decoder.trouble();
            return Optional.empty();
        }
        if (state == State.TEXT && decoder.text().equals(query)) {
            trouble = "got the query itself: the device echoes, and the dialect does not say so";
            return Optional.empty();
        }
        if (lines.somethingBehind()) {
            trouble = "got more than one reply, it is not known which is the right one";
            return Optional.empty();
        }
        if (state == State.BLOCK) {
            trouble = "got a block of data";
            return Optional.of(new Reply(null, decoder.block()));
        }
        trouble = "got \"" + decoder.text() + "\"";
        return Optional.of(new Reply(decoder.text(), null));
    }
}

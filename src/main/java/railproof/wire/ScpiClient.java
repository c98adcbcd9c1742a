package railproof.wire;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import railproof.wire.ScpiReplyDecoder.State;

/**
 * The host's side of SCPI over a serial line: one query per line, its reply awaited before the next line; the error
 * queue read after every setting command; back in step after trouble.
 *
 * <p>Out of step (no reply, an unreadable reply, bytes nobody asked for, or an exchange broken off) the next exchange
 * first finds its feet: wait the gap, drain until 200 ms are quiet, end any half line, drain again, keep the power-on bit
 * and the device's own faults, {@code *CLS}, {@code *IDN?} as before, error queue empty. Twice failed, the link counts as
 * down. Queries that change nothing are asked at most three times; commands are sent once, and it is for the driver to
 * read back what they did.
 *
 * <p>A serial line has no checksum: digits lost inside a number that still reads as a number cannot be seen here. The
 * rig's second measurement (board against load) is what catches those.
 *
 * <p>Every wait goes through {@link Link#read}; exceptions from it other than a {@link LinkTimeoutException} pass
 * through untouched. Thread: confined to the control thread.
 */
public final class ScpiClient {
    /** How often a query is asked again after its first try. */
    public static final int MAX_RETRIES = 2;

    /** Most entries read from an error queue at once. */
    public static final int MAX_ERRORS = 50;

    private static final int RESYNC_TRIES = 2;
    private static final long QUIET_NS = 200_000_000L;
    private static final long BABBLE_NS = 3_000_000_000L;
    private static final int POWER_ON_BIT = 1 << 7;

    private final Link link;
    private final ScpiSettings settings;
    private final ScpiLines lines;
    private final Pattern identityPattern;
    private final List<ScpiError> kept = new ArrayList<>();
    private String identity = "";
    private boolean outOfStep;
    private boolean powerOnSeen;
    private int resyncs;
    private String trouble = "";
    private String deviceSaid = "";

    /** A client on an open link. Sends nothing yet. */
    public ScpiClient(Link link, ScpiSettings settings) {
        this.link = link;
        this.settings = settings;
        this.lines = new ScpiLines(link, settings);
        this.identityPattern = Pattern.compile(settings.identityPattern());
    }

    /** Asks for a line of text; at most {@value #MAX_RETRIES} retries. Only for queries that change nothing. */
    public String query(String query) throws LinkException, InterruptedException {
        return ask(query, Optional::of);
    }

    /**
     * Asks for a number.
     *
     * @param unit unit letters tolerated behind it
     * @return empty if the device answers that it has none
     */
    public OptionalDouble number(String query, String unit) throws LinkException, InterruptedException {
        return ask(query, text -> ScpiNumber.parse(text, unit));
    }

    /** Asks for a definite-length block. */
    public byte[] block(String query) throws LinkException, InterruptedException {
        return repeat(query, reply -> Optional.ofNullable(reply.block()));
    }

    /**
     * Asks until the reply can be used.
     *
     * @param reader makes a value of the reply's text; empty means garbled, which is retried
     * @throws LinkTimeoutException if no usable reply came in all tries
     * @throws LinkDownException if the device cannot be brought back in step
     */
    public <T> T ask(String query, Function<String, Optional<T>> reader) throws LinkException, InterruptedException {
        return repeat(query, reply -> Optional.ofNullable(reply.text()).flatMap(reader));
    }

    /**
     * Sends a setting command once, then reads the error queue until it is empty.
     *
     * @return what the queue held, without the ignored numbers; a {@link ScpiErrorKind#LINK_TROUBLE} entry means that the
     *     device's answer was lost and the command's effect must be read back
     */
    public List<ScpiError> command(String command) throws LinkException, InterruptedException {
        findFeet();
        boolean finished = false;
        try {
            Optional<String> echoTrouble = lines.send(command);
            finished = echoTrouble.isEmpty();
            if (!finished) {
                return List.of(ScpiError.unread(echoTrouble.get()));
            }
        } finally {
            outOfStep |= !finished;
        }
        return errors();
    }

    /** Reads the error queue until it is empty, at most {@value #MAX_ERRORS} entries; see {@link #command}. */
    public List<ScpiError> errors() throws LinkException, InterruptedException {
        findFeet();
        List<ScpiError> found = new ArrayList<>(kept);
        kept.clear();
        if (!readQueue(found)) {
            found.add(ScpiError.unread(trouble));
        }
        return found;
    }

    /** Asks who is there, and remembers it: after trouble the same must answer. */
    public String identify() throws LinkException, InterruptedException {
        identity = query("*IDN?");
        return identity;
    }

    /** Whether a reply to {@code *IDN?} is of the device the rig file means: the pattern occurs in it. */
    public boolean expected(String identityReply) {
        return identityPattern.matcher(identityReply).find();
    }

    /** Forgets all errors and the power-on bit, here and in the device; returns what is in the queue right after. */
    public List<ScpiError> clear() throws LinkException, InterruptedException {
        powerCycled();
        kept.clear();
        return command("*CLS");
    }

    /**
     * Whether the device was switched on since this was last asked, or since {@link #clear}: the power-on bit of the
     * standard event register (IEEE 488.2, 11.5.1.1.2).
     */
    public boolean powerCycled() throws LinkException, InterruptedException {
        int register = ask("*ESR?", ScpiClient::register);
        boolean cycled = powerOnSeen || (register & POWER_ON_BIT) != 0;
        powerOnSeen = false;
        return cycled;
    }

    /** Asks for the bits of a status register. */
    public int statusBits(String query) throws LinkException, InterruptedException {
        return ask(query, ScpiClient::register);
    }

    /** Whether the last exchange ended in order. */
    public boolean inStep() {
        return !outOfStep;
    }

    /** How often this client had to find its feet; a change means that replies were lost. */
    public int resyncs() {
        return resyncs;
    }

    /**
     * Sends a line at once, whatever state the exchange is in, ending any half line before it. Reads nothing; the next
     * exchange finds its feet first if one was open.
     */
    public void sendUnconfirmed(String command) throws LinkException {
        lines.sendNow(command);
        outOfStep |= settings.echo();
    }

    /** The bytes of {@link #sendUnconfirmed}, for an emergency write past this client. */
    public static byte[] urgentBytes(ScpiSettings settings, String command) {
        return ScpiLines.urgentBytes(settings, command);
    }

    private <T> T repeat(String query, Function<Reply, Optional<T>> reader) throws LinkException, InterruptedException {
        long startNs = link.clock().nowNs();
        deviceSaid = "";
        for (int attempt = 0; attempt <= MAX_RETRIES; attempt++) {
            findFeet();
            Optional<T> answer = once(query, reader);
            if (answer.isPresent()) {
                return answer.get();
            }
        }
        long elapsedMs = (link.clock().nowNs() - startNs) / 1_000_000;
        throw new LinkTimeoutException(
                link.name(), query + " (" + trouble + deviceSaid + ")", elapsedMs, 1 + MAX_RETRIES);
    }

    private <T> Optional<T> once(String query, Function<Reply, Optional<T>> reader)
            throws LinkException, InterruptedException {
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

    /** Reads the queue into {@code found}; false if a reply was lost. */
    private boolean readQueue(List<ScpiError> found) throws LinkException, InterruptedException {
        if (settings.errorQuery().isEmpty()) {
            return true;
        }
        for (int i = 0; i < MAX_ERRORS; i++) {
            // asked once: a queue entry whose reply is lost cannot be asked for again
            Optional<ScpiError> entry = once(settings.errorQuery(), reply -> Optional.ofNullable(reply.text())
                    .flatMap(ScpiError::parse));
            if (entry.isEmpty()) {
                return false;
            }
            if (entry.get().code() == 0) {
                return true;
            }
            if (!settings.ignoredErrors().contains(entry.get().code())) {
                found.add(entry.get());
            }
        }
        found.add(new ScpiError(-350, "error queue did not end after " + MAX_ERRORS + " entries"));
        return true;
    }

    private void findFeet() throws LinkException, InterruptedException {
        if (!outOfStep && lines.quietNow()) {
            return;
        }
        outOfStep = true;
        resyncs++;
        String cause = trouble;
        for (int attempt = 0; attempt < RESYNC_TRIES; attempt++) {
            outOfStep = false;
            if (backInStep() && !outOfStep) {
                return;
            }
            outOfStep = true;
        }
        throw new LinkDownException(
                link.name(),
                "out of step (" + cause + ") and not back in step after " + RESYNC_TRIES + " tries: " + trouble);
    }

    private boolean backInStep() throws LinkException, InterruptedException {
        boolean done = false;
        try {
            if (!lines.drain(QUIET_NS, BABBLE_NS)) {
                trouble = "the device does not stop sending";
                return false;
            }
            lines.endHalfLine();
            if (!lines.drain(QUIET_NS, BABBLE_NS)) {
                trouble = "the device does not stop sending";
                return false;
            }
            done = settle();
            return done;
        } finally {
            outOfStep |= !done;
        }
    }

    /** *CLS would wipe out the power-on bit and faults of the device's own, so they are fetched first. */
    private boolean settle() throws LinkException, InterruptedException {
        Optional<Integer> register =
                once("*ESR?", reply -> Optional.ofNullable(reply.text()).flatMap(ScpiClient::register));
        if (register.isEmpty()) {
            return false;
        }
        powerOnSeen |= (register.get() & POWER_ON_BIT) != 0;
        List<ScpiError> found = new ArrayList<>();
        if (!readQueue(found)) {
            return false;
        }
        for (ScpiError error : found) {
            deviceSaid = "; the device says " + error.describe();
            if (error.kind() == ScpiErrorKind.DEVICE_FAULT) {
                kept.add(error);
            }
        }
        if (lines.send("*CLS").isPresent()) {
            return false;
        }
        Optional<String> who = once("*IDN?", reply -> Optional.ofNullable(reply.text()));
        if (who.isEmpty()) {
            return false;
        }
        if (!expected(who.get()) || !(identity.isEmpty() || identity.equals(who.get()))) {
            trouble = "another device answers: " + who.get();
            return false;
        }
        List<ScpiError> left = new ArrayList<>();
        if (!readQueue(left)) {
            return false;
        }
        if (!left.isEmpty()) {
            trouble = "its error queue does not stay empty: " + left.get(0).describe();
        }
        return left.isEmpty();
    }

    private static Optional<Integer> register(String text) {
        return ScpiNumber.parse(text, "")
                .filter(OptionalDouble::isPresent)
                .map(OptionalDouble::getAsDouble)
                .filter(value -> value >= 0 && value <= 65535 && value == Math.rint(value))
                .map(Double::intValue);
    }

    /** Text or block; exactly one is there. */
    private static final class Reply {
        private final @Nullable String text;
        private final byte @Nullable [] block;

        Reply(@Nullable String text, byte @Nullable [] block) {
            this.text = text;
            this.block = block == null ? null : Arrays.copyOf(block, block.length);
        }

        @Nullable
        String text() {
            return text;
        }

        byte @Nullable [] block() {
            return block;
        }
    }
}

package railproof.wire;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.regex.Pattern;
import railproof.wire.ScpiExchange.Reply;

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
 * <p>Where the dialect says that {@code *OPC?} is understood, it stands between a setting and the look into the error
 * queue, so that the errors of commands that run on are in it (IEEE 488.2, 12.5.3; from memory). A device without an
 * error queue is asked for its standard event register instead, which names the class of the error only.
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

    private final Link link;
    private final ScpiSettings settings;
    private final ScpiLines lines;
    private final ScpiExchange exchange;
    private final Pattern identityPattern;
    private final List<ScpiError> kept = new ArrayList<>();
    private String identity = "";
    private boolean powerOnSeen;
    private int resyncs;
    private String deviceSaid = "";

    /** A client on an open link. Sends nothing yet. */
    public ScpiClient(Link link, ScpiSettings settings) {
        this.link = link;
        this.settings = settings;
        this.lines = new ScpiLines(link, settings);
        this.exchange = new ScpiExchange(lines);
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

    /** Asks for the bits of a status register. */
    public int statusBits(String query) throws LinkException, InterruptedException {
        return ask(query, ScpiEvents::bits);
    }

    /** Asks for a definite-length block. */
    public byte[] block(String query) throws LinkException, InterruptedException {
        return repeat(query, Reply::block);
    }

    /**
     * Asks until the reply can be used.
     *
     * @param reader makes a value of the reply's text; empty means garbled, which is retried
     * @throws LinkTimeoutException if no usable reply came in all tries
     * @throws LinkDownException if the device cannot be brought back in step
     */
    public <T> T ask(String query, Function<String, Optional<T>> reader) throws LinkException, InterruptedException {
        return repeat(query, reply -> reply.text().flatMap(reader));
    }

    /**
     * Sends a setting command once, then reads the error queue until it is empty.
     *
     * @return what the queue held, without the ignored numbers; a {@link ScpiErrorKind#LINK_TROUBLE} entry means that the
     *     device's answer was lost and the command's effect must be read back
     */
    public List<ScpiError> command(String command) throws LinkException, InterruptedException {
        findFeet();
        boolean ended = exchange.tell(command)
                && (!settings.operationComplete()
                        || exchange.askText("*OPC?", text -> ScpiNumber.parse(text, ""))
                                .isPresent());
        return ended ? errors() : List.of(ScpiError.unread(exchange.trouble()));
    }

    /** Reads the error queue until it is empty, at most {@value #MAX_ERRORS} entries; see {@link #command}. */
    public List<ScpiError> errors() throws LinkException, InterruptedException {
        findFeet();
        List<ScpiError> found = new ArrayList<>(kept);
        kept.clear();
        if (!readQueue(found)) {
            found.add(ScpiError.unread(exchange.trouble()));
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
     * standard event register (IEEE 488.2, 11.5.1).
     */
    public boolean powerCycled() throws LinkException, InterruptedException {
        boolean cycled = ScpiEvents.powerOn(ask("*ESR?", ScpiEvents::bits)) || powerOnSeen;
        powerOnSeen = false;
        return cycled;
    }

    /** Whether the last exchange ended in order. */
    public boolean inStep() {
        return !exchange.outOfStep();
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
        if (settings.echo()) {
            exchange.outOfStep(true);
        }
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
            Optional<T> answer = exchange.ask(query, reader);
            if (answer.isPresent()) {
                return answer.get();
            }
        }
        long elapsedMs = (link.clock().nowNs() - startNs) / 1_000_000;
        String trouble = exchange.trouble() + deviceSaid;
        throw new LinkTimeoutException(link.name(), query + " (" + trouble + ")", elapsedMs, 1 + MAX_RETRIES);
    }

    /** Reads the queue into {@code found}; false if a reply was lost. */
    private boolean readQueue(List<ScpiError> found) throws LinkException, InterruptedException {
        if (settings.errorQuery().isEmpty()) {
            Optional<Integer> events = exchange.askText("*ESR?", ScpiEvents::bits);
            powerOnSeen |= events.isPresent() && ScpiEvents.powerOn(events.get());
            events.map(ScpiEvents::errors).ifPresent(found::addAll);
            return events.isPresent();
        }
        for (int i = 0; i < MAX_ERRORS; i++) {
            // asked once: a queue entry whose reply is lost cannot be asked for again
            Optional<ScpiError> entry = exchange.askText(settings.errorQuery(), ScpiError::parse);
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
        if (!exchange.outOfStep() && lines.quietNow()) {
            return;
        }
        resyncs++;
        String cause = exchange.trouble();
        for (int attempt = 0; attempt < RESYNC_TRIES; attempt++) {
            if (backInStep()) {
                return;
            }
        }
        throw new LinkDownException(
                link.name(),
                "out of step (" + cause + ") and not back in step after " + RESYNC_TRIES + " tries: "
                        + exchange.trouble() + deviceSaid);
    }

    private boolean backInStep() throws LinkException, InterruptedException {
        boolean done = false;
        try {
            exchange.outOfStep(false);
            if (quiet()) {
                lines.endHalfLine();
                done = quiet() && settled();
            }
            return done;
        } finally {
            exchange.outOfStep(!done);
        }
    }

    private boolean quiet() throws LinkException, InterruptedException {
        boolean quiet = lines.drain(QUIET_NS, BABBLE_NS);
        if (!quiet) {
            exchange.trouble("the device does not stop sending");
        }
        return quiet;
    }

    /** *CLS would wipe out the power-on bit and faults of the device's own, so they are fetched first. */
    private boolean settled() throws LinkException, InterruptedException {
        Optional<Integer> events = exchange.askText("*ESR?", ScpiEvents::bits);
        List<ScpiError> found = new ArrayList<>();
        if (events.isEmpty()) {
            return false;
        }
        powerOnSeen |= ScpiEvents.powerOn(events.get());
        boolean fetched = readQueue(found);
        for (ScpiError error : found) {
            deviceSaid = "; the device says " + error.describe();
            if (error.kind() == ScpiErrorKind.DEVICE_FAULT) {
                kept.add(error);
            }
        }
        Optional<String> who =
                fetched && exchange.tell("*CLS") ? exchange.askText("*IDN?", Optional::of) : Optional.empty();
        if (who.isEmpty()) {
            return false;
        }
        if (!expected(who.get()) || !(identity.isEmpty() || identity.equals(who.get()))) {
            exchange.trouble("another device answers: " + who.get());
            return false;
        }
        List<ScpiError> left = new ArrayList<>();
        boolean empty = readQueue(left) && left.isEmpty();
        if (!left.isEmpty()) {
            exchange.trouble(
                    "its error queue does not stay empty: " + left.get(0).describe());
        }
        return empty;
    }
}

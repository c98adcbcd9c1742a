package railproof.rig;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import railproof.base.Clock;
import railproof.instrument.BoardStatus;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.InstrumentException;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.wire.LinkException;

/**
 * The part of the bench that keeps it alive: every exchange, every wait, every event goes through here, in slices.
 *
 * <p>Thread: control thread only.
 */
final class BenchTalk {
    private static final Duration SLICE = Duration.ofMillis(GuardedLink.SLICE_MS);
    /** The loads are asked how they are this often, ns. */
    static final long LOAD_HEALTH_EVERY_NS = 1_000_000_000L;

    private final Rig rig;
    private final RunSink sink;
    private final Clock clock;
    private final long startNs;
    private final long heartbeatEveryNs;
    private long lastHeartbeatNs;
    private long lastHealthNs;
    private long lastTicks = Long.MIN_VALUE;
    private boolean inPulse;
    private boolean inquiring;
    private Care care = () -> {};

    private TripExplainer explainer = status ->
            new RunEndException(RunOutcome.End.FAULTED, "the board tripped: " + String.join(", ", status.faults()));

    BenchTalk(Rig rig, RunSink sink, long startNs) {
        this.rig = rig;
        this.sink = sink;
        this.clock = rig.clock();
        this.startNs = startNs;
        this.heartbeatEveryNs = rig.wiring().heartbeatTimeout().toNanos() / 4;
        this.lastHeartbeatNs = clock.nowNs();
        this.lastHealthNs = clock.nowNs();
    }

    double elapsedS() {
        return (clock.nowNs() - startNs) / 1e9;
    }

    /** Puts a trip of the board into words. */
    @FunctionalInterface
    interface TripExplainer {
        /** The end of the run that follows from it. */
        RunEndException explain(BoardStatus status) throws RunEndException;
    }

    /** Who explains a trip of the board. */
    void onTrip(TripExplainer tripExplainer) {
        explainer = tripExplainer;
    }

    /** Something to look after once a second while the bench is kept alive. */
    @FunctionalInterface
    interface Care {
        /** Looks; ends the run if something cannot be. */
        void look() throws RunEndException;
    }

    /** What is looked after besides the heartbeat and the loads' health. */
    void onCare(Care more) {
        care = more;
    }

    /** Something to ask an instrument. */
    @FunctionalInterface
    interface Question<T> {
        T ask() throws LinkException, InstrumentException, InterruptedException;
    }

    /** Talks with an instrument; any trouble ends the run. */
    <T> T exchange(Question<T> question) throws RunEndException {
        try {
            return question.ask();
        } catch (StopRequestedException e) {
            throw new RunEndException(e.stopCause().end(), e.stopCause().words(), e);
        } catch (LinkException e) {
            throw new RunEndException(RunOutcome.End.FAULTED, String.valueOf(e.getMessage()), e);
        } catch (InstrumentException e) {
            throw firstCause(new RunEndException(RunOutcome.End.FAULTED, String.valueOf(e.getMessage()), e));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new RunEndException(RunOutcome.End.STOPPED, "interrupted", e);
        }
    }

    /**
     * The end of the run for something that was seen and cannot be; or for what happened before it, if the board knows
     * of that: a line that is away may only show that the board has tripped.
     */
    RunEndException doubted(String words) {
        return firstCause(new RunEndException(RunOutcome.End.FAULTED, words));
    }

    /**
     * An instrument that answered but did not do as asked may only show what happened before: the board switched
     * everything off by itself, and the reason for that is the run's cause. Asked once, and only of a board that answers.
     */
    private RunEndException firstCause(RunEndException trouble) {
        if (inquiring) {
            return trouble;
        }
        inquiring = true;
        rig.loads().forEach(ElectronicLoad::emergencyOff); // the run is over; why, can be asked afterwards
        try {
            Optional<RunEndException> before = end(rig.board().status());
            before.ifPresent(cause -> cause.addSuppressed(trouble));
            return before.orElse(trouble);
        } catch (RunEndException | LinkException | InstrumentException e) {
            trouble.addSuppressed(e);
            return trouble;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return trouble;
        } finally {
            inquiring = false;
        }
    }

    /** An exchange without an answer. */
    @FunctionalInterface
    interface Command {
        void run() throws LinkException, InstrumentException, InterruptedException;
    }

    /** Tells an instrument something; any trouble ends the run. */
    void command(Command command) throws RunEndException {
        exchange(() -> {
            command.run();
            return command;
        });
    }

    /** Sign of life and stop signal, without a word to the instruments. */
    private void live() throws RunEndException {
        rig.guard().pulse();
        Optional<StopSignal.Cause> cause = rig.stop().cause();
        if (cause.isPresent()) {
            throw new RunEndException(cause.get().end(), cause.get().words());
        }
    }

    /** One slice of care: sign of life, stop signal, heartbeat, interlocks, the loads' health. */
    void pulse() throws RunEndException {
        live();
        if (inPulse) {
            return;
        }
        inPulse = true;
        try {
            long nowNs = clock.nowNs();
            if (nowNs - lastHeartbeatNs >= heartbeatEveryNs) {
                lastHeartbeatNs = nowNs;
                examine(exchange(() -> rig.board().heartbeat()));
                rig.guard().heard();
            }
            if (nowNs - lastHealthNs >= LOAD_HEALTH_EVERY_NS) {
                lastHealthNs = nowNs;
                for (ElectronicLoad load : rig.loads()) {
                    command(load::checkHealth);
                }
                care.look();
            }
        } finally {
            inPulse = false;
        }
    }

    private void examine(BoardStatus status) throws RunEndException {
        Optional<RunEndException> end = end(status);
        if (end.isPresent()) {
            throw end.get();
        }
        if (status.ticks() <= lastTicks) {
            throw new RunEndException(
                    RunOutcome.End.FAULTED,
                    "the board's clock stands still at " + lastTicks + " ticks: what the board says is stale");
        }
        lastTicks = status.ticks();
    }

    private Optional<RunEndException> end(BoardStatus status) throws RunEndException {
        Optional<RunEndException> open = open(status);
        if (open.isPresent()) {
            return open;
        }
        return switch (status.state()) {
            case TRIPPED -> Optional.of(explainer.explain(status));
            case SAFE, BOOT ->
                Optional.of(new RunEndException(
                        RunOutcome.End.FAULTED, "the board is no longer armed (state " + status.state() + ")"));
            case ARMED, ACTIVE -> Optional.empty();
        };
    }

    private Optional<RunEndException> open(BoardStatus status) {
        List<Interlock> open = rig.wiring().open(status.inputs());
        return open.isEmpty()
                ? Optional.empty()
                : Optional.of(new RunEndException(
                        RunOutcome.End.STOPPED,
                        open.stream().map(Interlock::words).collect(Collectors.joining("; "))));
    }

    /** Ends the run before anything is armed if an interlock stands open. */
    void requireInterlocksClosed() throws RunEndException {
        Optional<RunEndException> open = open(exchange(() -> rig.board().status()));
        if (open.isPresent()) {
            throw open.get();
        }
    }

    void pause(Duration duration) throws RunEndException {
        long endNs = clock.nowNs() + duration.toNanos();
        while (true) {
            pulse();
            long remainingNs = endNs - clock.nowNs();
            if (remainingNs <= 0) {
                return;
            }
            exchange(() -> {
                clock.sleepNs(Math.min(remainingNs, SLICE.toNanos()));
                return remainingNs;
            });
        }
    }

    /** Hands an event to the record and waits until it is kept, keeping the bench alive meanwhile. */
    void emit(RunEvent event) throws RunEndException {
        long sinceNs = clock.nowNs();
        RunSink.Receipt receipt = sink.accept(event);
        try {
            while (!receipt.kept(GuardedLink.SLICE_MS)) {
                stayAlive(sinceNs);
            }
        } catch (IOException e) {
            throw new RunEndException(RunOutcome.End.FAULTED, "the record cannot be kept: " + e.getMessage(), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new RunEndException(RunOutcome.End.STOPPED, "interrupted", e);
        }
    }

    /**
     * One slice of care in a wait for this computer. In virtual time such a wait takes none, and what is said to
     * instruments must not depend on the machine.
     *
     * @param sinceNs the clock when the wait began
     */
    private void stayAlive(long sinceNs) throws RunEndException {
        if (clock.nowNs() == sinceNs) {
            live();
        } else {
            pulse();
        }
    }

    /**
     * Has something worked out on a thread of its own, keeping the bench alive meanwhile: a slow machine may need longer
     * for it than instruments and watch bear silence.
     */
    <T> T workOut(Supplier<T> task) throws RunEndException {
        live();
        long startedNs = clock.nowNs();
        FutureTask<T> result = new FutureTask<>(task::get);
        Thread worker = new Thread(result, "rig-analysis");
        worker.setDaemon(true);
        worker.start();
        while (true) {
            try {
                return result.get(GuardedLink.SLICE_MS, TimeUnit.MILLISECONDS);
            } catch (TimeoutException e) {
                stayAlive(startedNs);
            } catch (ExecutionException e) {
                throw new IllegalStateException("the analysis broke off", e.getCause());
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new RunEndException(RunOutcome.End.STOPPED, "interrupted", e);
            }
        }
    }
}

package railproof.rig;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.Identity;
import railproof.instrument.InstrumentException;
import railproof.instrument.LineSource;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.wire.Link;
import railproof.wire.LinkException;

/**
 * One run of one rig, from first contact to everything off. However it ends, it ends through {@link #finish}.
 *
 * <p>Thread: the control thread calls {@link #connect} and {@link #run}; nothing else is public.
 */
public final class RigControl {
    private final Rig rig;
    private final LineFeed line;
    private final SafeStateLadder ladder;
    private final List<Contact> contacts = new ArrayList<>();
    private ControlState state = ControlState.IDLE;
    private Optional<ControlBench> bench = Optional.empty();

    /** A control for one run. */
    public RigControl(Rig rig) {
        this.rig = rig;
        this.line = rig.lineFeed();
        this.ladder = new SafeStateLadder(rig, line);
    }

    /**
     * An instrument that answered.
     *
     * @param name its name in the rig file
     * @param identity who it says it is
     */
    public record Contact(String name, Identity identity) {}

    /** What is to be done on the bench. */
    @FunctionalInterface
    public interface Work {
        /** Does it; returns when all points are taken. */
        void on(Bench bench) throws RunEndException;
    }

    /** The ladder, for the exit hook. */
    public SafeStateLadder ladder() {
        return ladder;
    }

    /**
     * Rung 0: first contact with every instrument; each is switched off before anything else is said to it. Trouble is
     * raised as the run's end, and {@link #run} will then only make safe.
     *
     * @return those that answered
     */
    public List<Contact> connect() {
        guarded(() -> {
            // loads first: a load left on by somebody must not meet a line that comes up
            for (ElectronicLoad load : rig.loads()) {
                contact(load.name(), load::connect);
            }
            contact(rig.board().name(), rig.board()::connect);
            Optional<LineSource> source = rig.lineSource();
            if (source.isPresent()) {
                contact(source.get().name(), source.get()::connect);
            }
            become(ControlState.CONNECTED);
        });
        return List.copyOf(contacts);
    }

    private void contact(String name, BenchTalk.Question<Identity> connect)
            throws LinkException, InstrumentException, InterruptedException {
        contacts.add(new Contact(name, connect.ask()));
    }

    /**
     * Does the work and makes safe, whatever happens.
     *
     * @param sink where the events go; the last one is RunEnded
     */
    public RunOutcome run(Work work, Operator operator, RunSink sink) {
        return run(work, operator, sink, RunStart.NEW);
    }

    /**
     * The same with a run that is taken up again.
     *
     * @param start what is on record already
     */
    public RunOutcome run(Work work, Operator operator, RunSink sink, RunStart start) {
        long startNs = rig.clock().nowNs() - Math.round(start.elapsedS() * 1e9);
        BenchTalk talk = new BenchTalk(rig, sink, startNs);
        try (ControlWatch watch = new ControlWatch(rig, ladder)) {
            watch.start();
            if (state == ControlState.CONNECTED) {
                guarded(() -> {
                    talk.requireInterlocksClosed();
                    rig.board().arm((int) rig.wiring().heartbeatTimeout().toMillis());
                    become(ControlState.RUNNING);
                    ChannelRecord.keep(rig, talk);
                    ControlBench made = new ControlBench(rig, talk, operator, line, start);
                    bench = Optional.of(made);
                    work.on(made);
                });
            }
            become(ControlState.MAKING_SAFE);
            SafeState safe = ladder.makeSafe(rig.stop().cause().isPresent());
            bench.ifPresent(made -> watchStoredCharge(
                    made.hazardousLive(), new DischargeWatch(rig, sink, operator, startNs, made.nextPointIndex())));
            return finish(safe, talk, sink);
        }
    }

    private void watchStoredCharge(List<RailPosition> rails, DischargeWatch watch) {
        try {
            watch.over(rails);
        } catch (java.io.IOException e) {
            rig.stop().raise(RunOutcome.End.FAULTED, "the record cannot be kept: " + e.getMessage());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private RunOutcome finish(SafeState safe, BenchTalk talk, RunSink sink) {
        become(ControlState.DONE);
        List<String> later = new ArrayList<>(rig.stop().later());
        ladder.remarks().forEach(remark -> later.add("while making safe: " + remark));
        Optional<StopSignal.Cause> cause = rig.stop().cause();
        RunOutcome outcome = new RunOutcome(
                cause.map(StopSignal.Cause::end).orElse(RunOutcome.End.COMPLETED),
                cause.map(StopSignal.Cause::words).orElse(""),
                later,
                safe);
        RunEvent ended = new RunEvent.RunEnded(talk.elapsedS(), rig.clock().wallTime(), outcome);
        Optional<String> refused = keepLast(ended, sink);
        if (refused.isPresent()) {
            List<String> more = new ArrayList<>(later);
            more.add(refused.get());
            RunOutcome.End end = outcome.completed() ? RunOutcome.End.FAULTED : outcome.end();
            String words = outcome.completed() ? refused.get() : outcome.cause();
            return new RunOutcome(end, words, more, safe);
        }
        return outcome;
    }

    /** Why the end could not be recorded; empty if it was. */
    private static Optional<String> keepLast(RunEvent ended, RunSink sink) {
        try {
            RunSink.Receipt receipt = sink.accept(ended);
            while (!receipt.kept(1000)) {
                // everything is off by now; the disk may take its time
            }
            return Optional.empty();
        } catch (java.io.IOException e) {
            return Optional.of("the end of the run could not be recorded: " + e.getMessage());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return Optional.of("the end of the run could not be recorded: interrupted");
        }
    }

    /** Part of a run that may end it. */
    @FunctionalInterface
    private interface Part {
        void run() throws RunEndException, LinkException, InstrumentException, InterruptedException;
    }

    /** Turns every way in which a part can fail into the run's first cause. */
    @SuppressWarnings("IllegalCatch") // the one place where a bug is caught: it must go safe first, then surface
    private void guarded(Part part) {
        try {
            part.run();
        } catch (RunEndException e) {
            rig.stop().raise(e.end(), String.valueOf(e.getMessage()));
            for (Throwable after : e.getSuppressed()) {
                rig.stop().raise(RunOutcome.End.FAULTED, String.valueOf(after.getMessage()));
            }
        } catch (StopRequestedException e) {
            rig.stop().raise(e.stopCause().end(), e.stopCause().words());
        } catch (LinkException | InstrumentException e) {
            rig.stop().raise(RunOutcome.End.FAULTED, String.valueOf(e.getMessage()));
        } catch (InterruptedException e) {
            rig.stop().raise(RunOutcome.End.STOPPED, "interrupted");
            Thread.currentThread().interrupt();
        } catch (RuntimeException | Error e) {
            System.getLogger("railproof.rig").log(System.Logger.Level.DEBUG, "a bug in the program ended the run", e);
            rig.stop().raise(RunOutcome.End.FAULTED, "a bug in the program: " + e + where(e));
        }
    }

    /** The place a bug report needs, without a stack trace on the technician's screen. */
    private static String where(Throwable bug) {
        return Arrays.stream(bug.getStackTrace())
                .filter(frame -> frame.getClassName().startsWith("railproof."))
                .findFirst()
                .map(frame -> " at " + frame)
                .orElse("");
    }

    private void become(ControlState next) {
        if (!state.mayBecome(next)) {
            throw new IllegalStateException("a run cannot go from " + state + " to " + next);
        }
        state = next;
    }

    /** Closes every instrument, and the links of those that this unit has no use for. Call after {@link #run}. */
    public void close() {
        rig.loads().forEach(ElectronicLoad::close);
        rig.lineSource().ifPresent(LineSource::close);
        rig.board().close();
        rig.links().forEach(Link::close);
    }
}

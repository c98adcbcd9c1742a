package railproof.app;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.base.Clock;
import railproof.base.Problem;
import railproof.procedure.BurnIn;
import railproof.procedure.BurnInDone;
import railproof.profile.BurnInPlan;
import railproof.record.BrokenOffRun;
import railproof.record.RecordException;
import railproof.record.RunFolderWriter;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.rig.RunStart;
import railproof.run.RunEvent;
import railproof.run.RunHeader;

/** One unit's burn-in, new or taken up again. */
final class BurnInJob implements RunJob {
    private final BurnInRequest request;
    private final BurnInPlan plan;
    private final Optional<BrokenOffRun> brokenOff;
    private final RunStart start;
    private final double gapS;
    private final Clock clock;
    private final BurnInControl control;

    /**
     * A job.
     *
     * @param brokenOff the run that is taken up again
     * @throws BadFileException if the run that broke off is not of this unit, profile, rig or time
     */
    BurnInJob(BurnInRequest request, Optional<BrokenOffRun> brokenOff, Clock clock, BurnInControl control)
            throws BadFileException {
        this.request = request;
        this.brokenOff = brokenOff;
        this.clock = clock;
        this.control = control;
        BurnInPlan own = request.run().profile().profile().plan().burnIn();
        if (brokenOff.isEmpty()) {
            plan = request.time().map(own::lasting).orElse(own);
            start = RunStart.NEW;
            gapS = 0;
            return;
        }
        BrokenOffRun before = brokenOff.get();
        plan = own.lasting(asked(before));
        double lastS = before.lastS();
        Instant lastAt = before.run().header().startedAt().plusNanos(Math.round(lastS * 1e9));
        // a clock that was set back in between tells nothing of the gap; time must not run back for that
        gapS = Math.max(0, Duration.between(lastAt, clock.wallTime()).toMillis() / 1e3);
        start = new RunStart(lastS + gapS, before.nextPoint(), before.nextWaveform());
    }

    private Duration asked(BrokenOffRun before) throws BadFileException {
        String unit = before.run().header().unitSerial();
        if (!unit.equals(request.run().unitSerial())) {
            throw refusal(
                    "this run is of unit " + unit + ", not of " + request.run().unitSerial());
        }
        Optional<String> other = before.differs(
                request.run().profile().source().sha256(),
                request.run().rig().source().sha256());
        if (other.isPresent()) {
            throw refusal("this run cannot be resumed: " + other.get());
        }
        Duration asked = before.run().events().stream()
                .filter(RunEvent.BurnInPlanned.class::isInstance)
                .findFirst()
                .map(event -> Duration.ofMillis(Math.round(1000 * ((RunEvent.BurnInPlanned) event).askedS())))
                .orElseThrow(() ->
                        refusal("this run is no burn-in, or broke off before its plan was on record: begin a new one"));
        if (request.time().isPresent() && !request.time().get().equals(asked)) {
            throw refusal("this run was begun for " + asked.toSeconds() / 3600.0 + " h; leave out --hours");
        }
        return asked;
    }

    private BadFileException refusal(String message) {
        String folder = brokenOff.map(run -> run.folder().toString()).orElse("");
        return new BadFileException(List.of(new Problem(folder, 0, 0, "", message)));
    }

    @Override
    public RunStart start() {
        return start;
    }

    @Override
    public RunFolderWriter open(Path dataDirectory, RunHeader header) throws RecordException, BadFileException {
        RunFolderWriter writer;
        if (brokenOff.isEmpty()) {
            writer = RunFolderWriter.open(dataDirectory, header);
            writer.append(new RunEvent.BurnInPlanned(0, plan.time().toMillis() / 1e3));
            return writer;
        }
        BrokenOffRun before = brokenOff.get();
        if (!before.run().header().instruments().equals(header.instruments())) {
            throw refusal("this run was made with other instruments: "
                    + String.join("; ", before.run().header().instruments()) + "; now there are "
                    + String.join("; ", header.instruments()));
        }
        double lastS = before.lastS();
        writer = before.goOn();
        writer.append(new RunEvent.Resumed(start.elapsedS(), lastS, gapS, clock.wallTime()));
        return writer;
    }

    /** A run that was waiting to be resumed goes on waiting. */
    @Override
    public boolean recordsTroubleAtTheStart() {
        return brokenOff.isEmpty();
    }

    @Override
    public void processEnds() {
        control.stopAll("the program was told to end");
    }

    @Override
    public void on(Bench bench) throws RunEndException {
        BurnInControl.Handle handle = control.handle(request.run().unitSerial());
        BurnInDone done = brokenOff.map(before -> BurnInDone.of(before.run())).orElse(BurnInDone.NOTHING);
        new BurnIn(request.run().profile().profile(), plan, done, handle::held, handle::progress).on(bench);
    }
}

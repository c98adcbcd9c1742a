package railproof.app;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import railproof.base.BadFileException;
import railproof.judge.Judge;
import railproof.judge.Judgement;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.record.RunFolderWriter;
import railproof.record.RunIds;
import railproof.report.CertificateExtras;
import railproof.rig.Bench;
import railproof.rig.ExitGuard;
import railproof.rig.Operator;
import railproof.rig.Rig;
import railproof.rig.RigControl;
import railproof.rig.RunEndException;
import railproof.rig.RunSink;
import railproof.rig.StopSignal;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.seal.Sealer;
import railproof.wire.LinkException;
import railproof.wire.WireTrace;

/**
 * Runs one job on one unit, as a rule its qualification: opens the bench, runs the procedures on a thread of its own ({@code rig-control}), keeps the
 * record as it goes, judges what was recorded, writes verdict and certificate.
 *
 * <p>Thread: {@link #run} blocks its caller; {@link #stop} may come from any thread.
 */
public final class RunService {
    private final RunRequest request;
    private final BenchAccess bench;
    private final WireTrace trace = new WireTrace();
    private final RigCalibration calibration;
    private final RigAssembly assembly;
    private final RunJob job;

    /**
     * Prepares a qualification; opens nothing yet.
     *
     * @param bench where the instruments are
     * @throws BadFileException if the rig's calibration file is there and cannot be used
     */
    public RunService(RunRequest request, BenchAccess bench) throws BadFileException {
        this(request, bench, RunJob.qualification(request.profile().profile()));
    }

    /** Prepares a run of another job. */
    RunService(RunRequest request, BenchAccess bench, RunJob job) throws BadFileException {
        this.job = job;
        this.request = request;
        this.bench = bench;
        this.calibration = RigCalibration.of(request.rig(), bench.clock());
        this.assembly = new RigAssembly(request.rig().config(), bench, trace, calibration);
    }

    /** Ends the run as soon as possible; the load goes off first. Idempotent. */
    public void stop(String who) {
        assembly.stop().raise(RunOutcome.End.STOPPED, who);
    }

    /**
     * Runs.
     *
     * @param operator who answers prompts
     * @param listener told of every event after it is on disk, on the writer's thread
     * @throws LinkException if a link cannot be opened at all: no run was begun
     * @throws RecordException if the run folder cannot be made or written
     * @throws BadFileException if the run folder cannot be read back
     */
    public RunResult run(Operator operator, Consumer<RunEvent> listener)
            throws LinkException, RecordException, BadFileException {
        Rig rig = assembly.build(request.profile().profile());
        RigControl control = new RigControl(rig);
        try (ExitGuard exit = new ExitGuard(rig, control.ladder(), job::processEnds)) {
            ControlThread thread = new ControlThread(control, operator, job.start());
            List<RigControl.Contact> contacts = thread.connect();
            refuseForeignCalibration(contacts);
            Optional<StopSignal.Cause> trouble = assembly.stop().cause();
            if (trouble.isPresent() && !job.recordsTroubleAtTheStart()) {
                RunOutcome unrecorded = thread.run(on -> {}, event -> RunSink.Receipt.KEPT);
                exit.runIsOver();
                throw new LinkException(
                        request.rig().config().name(),
                        trouble.get().words() + " (load and line off: " + unrecorded.safeState() + ")");
            }
            RunFolderWriter writer = job.open(request.dataDirectory(), header(contacts));
            return recorded(thread, exit, writer, listener);
        } finally {
            control.close();
        }
    }

    private RunResult recorded(
            ControlThread thread, ExitGuard exit, RunFolderWriter writer, Consumer<RunEvent> listener)
            throws RecordException, BadFileException {
        Optional<RunOutcome> ended = Optional.empty();
        try {
            try (RecordQueue queue = new RecordQueue(writer, listener)) {
                ended = Optional.of(thread.run(this::work, queue));
                exit.runIsOver();
            }
            return conclude(writer, ended.get());
        } catch (RecordException | BadFileException e) {
            if (ended.isEmpty()) {
                throw e;
            }
            return unconcluded(writer, ended.get(), String.valueOf(e.getMessage()));
        }
    }

    /** The run is over, but its record refuses: how sure "off" is must not be lost with it. */
    private static RunResult unconcluded(RunFolderWriter writer, RunOutcome outcome, String trouble) {
        RunData run;
        try {
            run = withOutcome(RunFolder.read(writer.folder()), outcome);
        } catch (BadFileException e) {
            run = new RunData(writer.header(), List.of(), List.of(), List.of(), outcome);
        }
        ExitStatus status = outcome.safeState() == SafeState.CONFIRMED ? ExitStatus.RIG_TROUBLE : ExitStatus.NOT_SAFE;
        return new RunResult(
                writer.folder(), run, Optional.empty(), status, List.of("The record is not whole: " + trouble));
    }

    /** The outcome in hand knows more than the folder when the end itself could not be written. */
    private static RunData withOutcome(RunData run, RunOutcome outcome) {
        return new RunData(run.header(), run.points(), run.waveforms(), run.events(), outcome);
    }

    private void work(Bench on) throws RunEndException {
        for (String doubt : calibration.doubts()) {
            on.note(RunEvent.Note.Level.WARNING, doubt);
        }
        job.on(on);
    }

    /** A calibration of another board makes every reading wrong; that is rig trouble, not a lack of paper. */
    private void refuseForeignCalibration(List<RigControl.Contact> contacts) {
        for (RigControl.Contact contact : contacts) {
            if (contact.name().equals(RigAssembly.BOARD)) {
                calibration.foreign(contact.identity().serial()).ifPresent(cause -> assembly.stop()
                        .raise(RunOutcome.End.FAULTED, cause));
            }
        }
    }

    private RunResult conclude(RunFolderWriter writer, RunOutcome outcome) throws RecordException, BadFileException {
        if (!outcome.completed()) {
            RunFolder.writeText(writer.folder(), "wire-trace.txt", String.join("\n", trace.lines()) + "\n");
        }
        RunData run = RunFolder.read(writer.folder());
        Judgement judgement = Judge.judge(
                run, request.profile().profile(), request.profile().source().sha256());
        RunFolder.writeVerdict(writer.folder(), judgement);
        CertificateExtras extras =
                new CertificateExtras(Optional.empty(), Optional.empty(), Sealer.recordDigest(writer.folder()));
        for (Map.Entry<String, byte[]> file : Paperwork.of(
                        run, request.profile().profile(), judgement, extras)
                .entrySet()) {
            RunFolder.writeBytes(writer.folder(), file.getKey(), file.getValue());
        }
        List<String> troubles = Sealing.afterRun(
                        writer.folder(), run.header(), bench.clock().wallTime())
                .stream()
                .toList();
        return new RunResult(
                writer.folder(),
                withOutcome(run, outcome),
                Optional.of(judgement),
                ExitStatus.of(outcome, Optional.of(judgement)),
                troubles);
    }

    private RunHeader header(List<RigControl.Contact> contacts) {
        Instant startedAt = bench.clock().wallTime();
        boolean simulated = bench.simulated()
                || contacts.stream().anyMatch(contact -> contact.identity().simulated());
        return new RunHeader(
                RunIds.of(startedAt, request.unitSerial(), request.stage()),
                request.unitSerial(),
                request.stage(),
                request.operator(),
                startedAt,
                Version.text(),
                request.profile().source(),
                request.rig().source(),
                calibration.source(),
                simulated,
                bench.simulatedUnit(),
                contacts.stream()
                        .map(contact ->
                                contact.name() + ": " + contact.identity().model() + ", serial "
                                        + contact.identity().serial() + ", firmware "
                                        + contact.identity().firmware())
                        .toList());
    }
}

package railproof.app;

import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import railproof.base.BadFileException;
import railproof.record.FaultyDisk;
import railproof.record.RecordException;
import railproof.record.RunFolderWriter;
import railproof.rig.Bench;
import railproof.rig.Operator;
import railproof.rig.RunEndException;
import railproof.rig.RunStart;
import railproof.run.RunHeader;
import railproof.wire.LinkException;

/** A run with hooks where a campaign reaches in: the disk under its record, the bench its procedures see. */
public final class HookedRun {
    private HookedRun() {}

    /**
     * Where a campaign reaches in.
     *
     * @param disk under the record
     * @param bench wraps what the procedures see
     * @param over told when the procedures are through, whichever way: what follows is making safe
     * @param started given the running service before the first word to any instrument
     */
    public record Hooks(FaultyDisk disk, UnaryOperator<Bench> bench, Runnable over, Consumer<RunService> started) {}

    /** Qualifies. */
    public static RunResult qualification(RunRequest request, BenchAccess access, Hooks hooks)
            throws LinkException, RecordException, BadFileException {
        return run(
                request, access, hooks, RunJob.qualification(request.profile().profile()));
    }

    /** Burns in. */
    public static RunResult burnIn(RunRequest request, BenchAccess access, Hooks hooks)
            throws LinkException, RecordException, BadFileException {
        BurnInRequest burnIn = new BurnInRequest(request, Optional.empty(), Optional.empty());
        BurnInControl control = new BurnInControl(java.util.List.of(request.unitSerial()));
        return run(request, access, hooks, new BurnInJob(burnIn, Optional.empty(), access.clock(), control));
    }

    private static RunResult run(RunRequest request, BenchAccess access, Hooks hooks, RunJob job)
            throws LinkException, RecordException, BadFileException {
        RunJob hooked = new RunJob() {
            @Override
            public RunStart start() {
                return job.start();
            }

            @Override
            public RunFolderWriter open(Path dataDirectory, RunHeader header) throws RecordException {
                return hooks.disk().open(dataDirectory, header);
            }

            @Override
            public void on(Bench bench) throws RunEndException {
                try {
                    job.on(hooks.bench().apply(bench));
                } finally {
                    hooks.over().run();
                }
            }
        };
        RunService service = new RunService(request, access, hooked);
        hooks.started().accept(service);
        return service.run(Operator.nobody(), event -> {});
    }
}

package railproof.app;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import railproof.rig.Operator;
import railproof.rig.file.BuiltInFiles;
import railproof.run.RunEvent;
import railproof.run.Stage;
import railproof.sim.BenchClock;
import railproof.sim.SimulatedBench;

/**
 * A process that burns in one simulated unit, to be killed: prints each point as soon as it is told that it is on disk.
 * Takes profile, unit, data directory, hours, wall time at its start, and the folder to resume if there is one.
 */
final class BurnInChild {
    private BurnInChild() {}

    public static void main(String[] arguments) throws Exception {
        RunRequest run = new RunRequest(
                BuiltInFiles.rig("simulated-bench"),
                BuiltInFiles.profile(arguments[0]),
                arguments[1],
                Stage.AS_LEFT,
                "",
                Path.of(arguments[2]),
                Optional.empty(),
                false);
        Optional<Path> resume = arguments.length > 5 ? Optional.of(Path.of(arguments[5])) : Optional.empty();
        Optional<Duration> time = resume.isPresent() ? Optional.empty() : Optional.of(Duration.parse(arguments[3]));
        Instant startedAt = Instant.parse(arguments[4]);
        BurnInService service =
                new BurnInService(List.of(new BurnInRequest(run, time, resume)), request -> bench(request, startedAt));
        BurnInResult result = service.run(unit -> Operator.nobody(), (unit, event) -> {
                    if (event instanceof RunEvent.PointTaken taken) {
                        // one write, line end and all, as far as the pipe takes it
                        System.out.print(taken.point() + "\n");
                        System.out.flush();
                    }
                })
                .get(0);
        result.trouble().ifPresent(trouble -> System.err.println(trouble.getMessage()));
        System.exit(result.status().code());
    }

    private static BenchAccess bench(RunRequest request, Instant startedAt) throws railproof.base.BadFileException {
        SimulationSetup setup =
                new SimulationSetup(request.rig(), request.profile().profile(), "").fastForward();
        SimulatedBench bench = setup.build();
        return new BenchAccess(
                new BenchClock(bench, startedAt),
                Benches.memoryLinks(bench, request.rig().config()),
                true,
                setup.words());
    }
}

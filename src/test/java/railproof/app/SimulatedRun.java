package railproof.app;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.profile.ProfileFile;
import railproof.rig.Operator;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.run.Stage;
import railproof.sim.BenchClock;
import railproof.sim.BenchPlan;
import railproof.sim.Plant;
import railproof.sim.SimulatedBench;

/** A qualification of a unit on a simulated bench, with whatever a test wants to be otherwise than shipped. */
final class SimulatedRun {
    private final ProfileFile profile;
    private RigFile rig = BuiltInFiles.rig("simulated-bench");
    private String fault = "";
    private UnaryOperator<Plant> plant = UnaryOperator.identity();
    private UnaryOperator<BenchPlan> plan = UnaryOperator.identity();
    private Function<SimulatedBench, Operator> operator = bench -> Operator.nobody();

    private SimulatedRun(ProfileFile profile) {
        this.profile = profile;
    }

    /** A run to a shipped profile in which these procedures are asked for and some words are replaced by others. */
    static SimulatedRun to(String profileName, String procedures, String... fromTo) throws BadFileException {
        String asked = "[plan]\nprocedures = [\"" + procedures.replace(", ", "\", \"") + "\"]\n";
        String text = BuiltInFiles.profile(profileName).source().text().replace("[plan]\n", asked);
        return new SimulatedRun(ProfileFile.parse(profileName, replaced(profileName, text, fromTo)));
    }

    private static String replaced(String name, String text, String... fromTo) {
        String now = text;
        for (int i = 0; i < fromTo.length; i += 2) {
            if (!now.contains(fromTo[i])) {
                throw new IllegalArgumentException(name + " does not say " + fromTo[i]);
            }
            now = now.replace(fromTo[i], fromTo[i + 1]);
        }
        return now;
    }

    /** On another shipped bench, with some words of its file replaced by others. */
    SimulatedRun on(String rigName, String... fromTo) throws BadFileException {
        String text = BuiltInFiles.rig(rigName).source().text();
        rig = RigFile.parse(rigName, replaced(rigName, text, fromTo));
        return this;
    }

    /** With a fault, in the simulator's words. */
    SimulatedRun fault(String words) {
        fault = words;
        return this;
    }

    /** With another unit on the bench, or one that is watched. */
    SimulatedRun plant(UnaryOperator<Plant> other) {
        plant = other;
        return this;
    }

    /** With the bench wired otherwise than its file says. */
    SimulatedRun wired(UnaryOperator<BenchPlan> otherwise) {
        plan = otherwise;
        return this;
    }

    /** With somebody there, who can reach the bench. */
    SimulatedRun operator(Function<SimulatedBench, Operator> somebody) {
        operator = somebody;
        return this;
    }

    /** What became of it, and the bench it was done on. */
    record Done(RunResult result, SimulatedBench bench) {
        List<Point> points(Section section) {
            return result.run().points().stream()
                    .filter(point -> point.section() == section)
                    .toList();
        }

        /** The notes of the record, one a line. */
        String notes() {
            return String.join(
                    "\n",
                    result.run().events().stream()
                            .filter(RunEvent.Note.class::isInstance)
                            .map(event -> ((RunEvent.Note) event).text())
                            .toList());
        }
    }

    Done run(Path data) throws Exception {
        SimulationSetup.Parts parts = new SimulationSetup(rig, profile.profile(), fault).parts(List.of());
        SimulatedBench bench =
                new SimulatedBench(plant.apply(parts.plant()), plan.apply(parts.plan()), parts.handLineHz());
        RunRequest request = new RunRequest(rig, profile, "S-1", Stage.AS_LEFT, "", data, Optional.empty(), false);
        BenchAccess access = new BenchAccess(
                new BenchClock(bench, Instant.parse("2026-01-05T08:00:00Z")),
                Benches.memoryLinks(bench, rig.config()),
                true,
                "unit of a test");
        return new Done(new RunService(request, access).run(operator.apply(bench), event -> {}), bench);
    }

    static double value(Point point, Quantity quantity) {
        return point.reading(quantity)
                .measured()
                .map(Measured::value)
                .orElseThrow(() -> new AssertionError(point.reading(quantity).toString()));
    }
}

package railproof.app;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.profile.Plan;
import railproof.profile.ProfileFile;
import railproof.rig.Operator;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Stage;
import railproof.run.Waveform;
import railproof.signal.Settling;

/**
 * How long a load sweep takes, against what cannot be done faster: the load's own settling, three
 * looks of a tenth of a second that agree, and the capture. Both without the wire, which the simulated bench has not and
 * which would only bring them nearer to each other; what the captures would add over a port is printed beside it.
 */
@Tag("bench")
class SweepTimeBenchTest {
    private static final System.Logger LOG = System.getLogger(SweepTimeBenchTest.class.getName());
    /** A look holds whole cycles of 50 and of 60 Hz, s. */
    private static final double LOOK_S = 0.1;
    /** Half a cycle of room for a line that runs slow. */
    private static final double SPARE_CYCLES = 0.5;

    private static final double PORT_BAUD = 1e6;

    @TempDir
    private Path data = Path.of("");

    /** The wall's clock has in it what this machine needs for the simulated unit; the bench's own has not. */
    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void loadSweepOverItsPhysicalFloor(boolean realTime) throws Exception {
        RigFile rig = BuiltInFiles.rig("simulated-bench");
        ProfileFile profile = BuiltInFiles.profile("bench-12v");
        RunRequest request = new RunRequest(rig, profile, "T-1", Stage.AS_LEFT, "", data, Optional.empty(), realTime);
        List<Double> pointsS = new ArrayList<>();

        RunResult result = new RunService(request, Benches.open(request)).run(Operator.nobody(), event -> {
            if (event instanceof RunEvent.PointTaken taken && taken.point().section() == Section.LOAD_SWEEP) {
                pointsS.add(realTime ? System.nanoTime() * 1e-9 : taken.elapsedS());
            }
        });

        RunOutcome outcome = result.run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        int intervals = pointsS.size() - 1;
        double tookS = (pointsS.get(intervals) - pointsS.get(0)) / intervals;
        Plan plan = profile.profile().plan();
        double captureS =
                (plan.lineCycles() + SPARE_CYCLES) / profile.profile().line().frequencyHz();
        double settleS = rig.config().load("load-2").dialect().settle().toNanos() * 1e-9;
        double floorS = settleS + Settling.QUIET_READINGS * LOOK_S + captureS;
        LOG.log(
                INFO,
                String.format(
                        Locale.ROOT,
                        "load sweep by the %s clock, %d points: %.1f ms each, floor %.1f ms, ratio %.3f; over a port of 1 MBd a capture"
                                + " takes %.0f ms more",
                        realTime ? "wall's" : "bench's",
                        intervals + 1,
                        1e3 * tookS,
                        1e3 * floorS,
                        tookS / floorS,
                        1e3 * portS(result)));
    }

    private static double portS(RunResult result) {
        Waveform capture = result.run().waveforms().stream()
                .filter(waveform -> waveform.section() == Section.LOAD_SWEEP)
                .findFirst()
                .orElseThrow();
        int samples = capture.traces().get(0).samples().length;
        return samples * capture.traces().size() * 2 * 10 / PORT_BAUD;
    }
}

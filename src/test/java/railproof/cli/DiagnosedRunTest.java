package railproof.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.cli.PaperRuns.Said;

/**
 * Runs of simulated units through the whole program, then diagnosed. The simulator shares no code with the diagnosis and
 * has what its model has not: bleeders, devices in parallel, foldback, a latch.
 */
@Tag("slow")
final class DiagnosedRunTest {
    @TempDir
    private Path data = Path.of("");

    private Said diagnosed(String profile, String fault) {
        PaperRuns runs = new PaperRuns(data);
        List<String> test = new java.util.ArrayList<>(
                List.of("test", "--rig", "simulated-bench", "--profile", profile, "--unit", "LC-2107"));
        if (!fault.isEmpty()) {
            test.addAll(List.of("--sim-fault", fault));
        }
        Said tested = runs.inData(test.toArray(String[]::new));
        assertEquals(fault.isEmpty() ? 0 : 1, tested.status(), tested.out() + tested.err());
        String run = tested.err()
                .lines()
                .filter(line -> line.startsWith("Record: "))
                .findFirst()
                .map(line -> String.valueOf(
                        Path.of(line.substring("Record: ".length())).getFileName()))
                .orElseThrow(() -> new AssertionError(tested.out() + tested.err()));
        return runs.inData("diagnose", run);
    }

    /** Each was once called faulty: by an accident of the draw, and for the resistor across its reservoir. */
    @ParameterizedTest
    @ValueSource(strings = {"counter-5v", "tape-12v-latching"})
    void aSoundUnitIsCalledSound(String profile) {
        Said said = diagnosed(profile, "");

        assertEquals(0, said.status(), said.out());
        assertTrue(said.out().contains("Nothing read so far is unlike a sound unit"), said.out());
        assertFalse(said.out().contains("outside"), "a sound part is called outside its tolerance: " + said.out());
    }

    @ParameterizedTest
    @CsvSource({
        "bench-12v, leaky-reservoir, 'reservoir capacitor, leaky'",
        "counter-5v, reservoir-low-capacitance, 'reservoir capacitor, lost capacitance'"
    })
    void aFaultyUnitIsFoundAndNoOtherPartIsAccused(String profile, String fault, String words) {
        Said said = diagnosed(profile, fault);

        assertEquals(1, said.status(), said.out());
        assertTrue(said.out().contains("Most probably: " + words), said.out());
        assertEquals(
                List.of(),
                said.out()
                        .lines()
                        .filter(line -> line.contains(": outside") && !line.startsWith("reservoir"))
                        .toList());
    }
}

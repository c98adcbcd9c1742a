package railproof.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code railproof diagnose} at the bench without a rig: from a file, and typed in. */
final class DiagnoseCommandTest {
    /** The data directory of the diagnosis tests: fault dictionaries are made once per build. */
    private static final Path DATA =
            Path.of(System.getProperty("railproof.build.dir", "target")).resolve("diagnosis-tests");

    @TempDir
    private Path folder = Path.of("");

    private record Ended(int status, String out, String err) {}

    private static Ended run(String typed, String... args) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        List<String> all = new ArrayList<>(List.of("diagnose", "--data", DATA.toString()));
        all.addAll(List.of(args));
        int status = new CommandLineFace(
                        new PrintStream(out, true, StandardCharsets.UTF_8),
                        new PrintStream(err, true, StandardCharsets.UTF_8),
                        new ByteArrayInputStream(typed.getBytes(StandardCharsets.UTF_8)))
                .run(all.toArray(String[]::new));
        return new Ended(status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
    }

    private String file(String text) throws IOException {
        return Files.writeString(folder.resolve("by-hand.csv"), text).toString();
    }

    /** Readings of the 12 V supply with 1 Ω in series with its reservoir, by ngspice 39. */
    @Test
    void namesTheReservoirFromAFileOfReadings() throws IOException {
        Ended ended = run(
                "",
                "--profile",
                "bench-12v",
                "--readings",
                file(
                        """
                        condition,output_voltage_V,ripple_pp_V,raw_voltage_V,raw_ripple_pp_V
                        half-load,12.10,0.1046,17.96,3.982
                        full-load,11.71,1.218,16.18,6.202
                        """));

        assertEquals(1, ended.status(), ended.err());
        assertTrue(ended.out().contains("Most probably: reservoir capacitor"), ended.out());
        assertTrue(ended.out().contains("for: raw ripple p-p at full load 6.2"), ended.out());
        assertTrue(ended.out().lines().allMatch(line -> line.length() <= 100), ended.out());
    }

    @Test
    void jsonCarriesTheSame() throws IOException {
        Ended ended = run(
                "",
                "--json",
                "--profile",
                "bench-12v",
                "--readings",
                file("condition,output_voltage_V,ripple_pp_V\nno-load,20.5,0.02\nfull-load,15.68,1.554\n"));

        assertTrue(ended.status() == 1 || ended.status() == 4, "something is wrong: " + ended.status());
        assertTrue(ended.out().contains("\"not_told_apart\""), ended.out());
        assertTrue(ended.out().contains("\"next_probes\""), ended.out());
    }

    /** A reference open by ngspice 39: the output as high as the raw side, the reference as high as the output. */
    @Test
    void guidesTheProbeAndWarnsBeforeTheCoverComesOff() {
        // output and its ripple, then the sense tap, then the reference
        Ended ended = run("20.5\n15.68\n1.554\n10.75\n8.21\n20.5\n15.68\nq\n", "--profile", "bench-12v");

        String said = ended.err();
        int warned = said.indexOf("can kill");
        int inside = said.indexOf("At the sense tap");
        assertTrue(said.contains("At the output terminals"), said);
        assertTrue(warned > 0 && inside > warned, "cautions come first: " + said);
        assertTrue(said.contains("! Heat sinks are hot"), said);
        assertTrue(ended.out().contains("reference diode, open"), ended.out() + said);
        assertEquals(1, ended.status());
    }

    @Test
    void aSlipOfTheFingerIsAskedAgain() {
        Ended ended = run("twelve\n12.2\n12,1\n50m\nq\n", "--profile", "bench-12v");

        assertTrue(ended.err().contains("\"twelve\" is no number"), ended.err());
        assertEquals(0, ended.status(), ended.out());
        assertTrue(ended.out().contains("unlike a sound unit"), ended.out());
    }

    @Test
    void badCommandLinesAreSaidPlainly() throws IOException {
        assertEquals(2, run("").status());
        assertTrue(run("").err().contains("either RUN or --profile is needed"));
        assertEquals(2, run("", "--profile", "bench-12v", "--confirm", "driver").status());
        Ended rail = run("", "--profile", "bench-12v", "--rail", "+13 V");
        assertEquals(2, rail.status());
        assertTrue(rail.err().contains("there are: +12 V"), rail.err());
        Ended file = run(
                "",
                "--profile",
                "bench-12v",
                "--readings",
                folder.resolve("none.csv").toString());
        assertEquals(2, file.status());
        assertFalse(file.err().contains("Exception:"), file.err());
        assertEquals(2, run("", "no-such-run").status());
    }
}

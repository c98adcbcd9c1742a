package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.rig.file.RigFile;

/** What a look over the rig says of its calibration; the instruments are the simulated ones. */
class RigCheckTest {
    @TempDir
    private Path folder = Path.of("");

    private static String channel(String name, double half) {
        return """
                [channels.%s]
                calibrated_on = "2025-12-01"
                due_on = "2099-12-01"
                reference = "bench meter, serial 0012"
                reference_gain_u_pct = 0.002
                reference_offset_u_V = 0.0001
                gain = 1
                offset_V = 0
                pivot_V = %s
                gain_u_pct = 0.001
                height_u_V = 0.00005
                residual_sd_V = 0.00002
                nominal_V = [0, %s, %s]
                reference_readings_V = [0, %s, %s]
                """
                .formatted(name, half, half, 2 * half, half, 2 * half);
    }

    private List<RigCheck.Finding> check(String channels) throws Exception {
        Path file = folder.resolve("plain-bench.toml");
        Files.writeString(file, PlainBench.RIG.replaceFirst("(?m)^title = .*", "$0\ncalibration_file = \"cal.toml\""));
        if (!channels.isEmpty()) {
            Files.writeString(
                    folder.resolve("cal.toml"), "rig = \"plain-bench\"\nboard_serial = \"SIM-0001\"\n" + channels);
        }
        return new RigCheck(RigFile.read(file), Optional.empty()).everything();
    }

    private static String found(List<RigCheck.Finding> findings, String what) {
        return findings.stream()
                .filter(finding -> finding.what().equals(what))
                .findFirst()
                .orElseThrow(() -> new AssertionError(findings.toString()))
                .found();
    }

    /** 1 mV at 2 A, with 0.05 mV and 0.02 mV of the line's own: √(1 + 0.05² + 0.02²) mV / 2 A = 0.50 mΩ. */
    @Test
    void aCheckedLeadDropIsSaidWithItsUncertainty() throws Exception {
        List<RigCheck.Finding> findings =
                check(channel("output", 4.5) + "lead_drop_check_V = -0.001\nlead_drop_current_A = 2.0\n");

        assertEquals(
                "of 2025-12-01, due 2099-12-01, against bench meter, serial 0012; lead drop checked, u = 0.50 mOhm",
                found(findings, "calibration output"));
    }

    @Test
    void aLeadDropThatWasNotCheckedIsSaidToo() throws Exception {
        assertTrue(found(check(channel("output", 4.5)), "calibration output").endsWith("; lead drop not checked"));
    }

    /** No load current flows beside the leads of the line's channel. */
    @Test
    void aChannelThatFeelsNoLoadCurrentHasNoWordOfLeads() throws Exception {
        assertEquals(
                "of 2025-12-01, due 2099-12-01, against bench meter, serial 0012",
                found(check(channel("line", 160)), "calibration line"));
    }

    @Test
    void withoutACalibrationTheRigIsGoodForMeasuringOnly() throws Exception {
        List<RigCheck.Finding> findings = check("");

        assertTrue(
                found(findings, "calibration").endsWith("the rig can measure, its runs cannot be signed off"),
                findings.toString());
        assertTrue(findings.stream().allMatch(RigCheck.Finding::good), findings.toString());
        assertTrue(found(findings, "channel output").endsWith("with everything off"));
    }
}

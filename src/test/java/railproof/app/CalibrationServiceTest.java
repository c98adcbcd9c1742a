package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Period;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.rig.Accuracy;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.CalibrationFile;
import railproof.rig.file.ChannelConfig;
import railproof.rig.file.RigFile;
import railproof.sim.device.AdcChannel;

/** Calibrates channels of the simulated bench, whose errors are known to the test. */
class CalibrationServiceTest {
    private static final ChannelCalibration.Reference METER =
            new ChannelCalibration.Reference("bench meter, serial 0012", 1e-5, 2e-5);

    @TempDir
    private Path folder = Path.of("");

    private final List<String> shown = new ArrayList<>();

    /** Looks on while the simulated calibrator answers. */
    private final Calibrator onlooker = new Calibrator() {
        @Override
        public OptionalDouble reading(Step step, String channel, double level, String unit) {
            throw new IllegalStateException("nobody is to be asked on a simulated bench");
        }

        @Override
        public void show(String line) {
            shown.add(line);
        }
    };

    private RigFile rig(int seed) throws Exception {
        String text = BuiltInFiles.rig("simulated-bench").source().text();
        Path file = folder.resolve("rig.toml");
        Files.writeString(
                file,
                text.replaceFirst("(?m)^title = .*", "$0\ncalibration_file = \"cal.toml\"")
                        .replaceFirst("noise_seed = \\d+", "noise_seed = " + seed));
        return RigFile.read(file);
    }

    private List<String> calibrate(RigFile rig, String... channels) throws Exception {
        return CalibrationService.run(
                new CalibrationRequest(rig, List.of(channels), METER, List.of(), Period.ofMonths(12), Optional.empty()),
                onlooker);
    }

    private static ChannelConfig channel(RigFile rig, String name) {
        return rig.config().board().channels().stream()
                .filter(c -> c.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    /** Error of the calibrated channel at a true level, and its expanded uncertainty (k = 2). */
    private record Found(double value, double expandedU) {}

    private static Found errorAt(RigFile rig, CalibrationFile file, String name, double level) throws Exception {
        AdcChannel wrong = new SimulationSetup(
                        rig, BuiltInFiles.profile("counter-5v").profile(), "")
                .converter(channel(rig, name));
        double nominal = level * (1 + wrong.gainErrorRatio()) + wrong.offsetV();
        ChannelCalibration line = file.line(name).orElseThrow();
        double fitU = Math.hypot(line.heightUDimensionless(), line.gainURatio() * (level - line.pivotDimensionless()));
        double u = Math.hypot(fitU, Math.hypot(METER.gainURatio() * level, METER.offsetUDimensionless()));
        return new Found(line.corrected(nominal) - level, 2 * u);
    }

    @Test
    @Tag("slow")
    void theErrorsOfTheChannelAreFoundWithinTheStatedUncertainty() throws Exception {
        int within = 0;
        int looked = 0;
        for (int seed = 1; seed <= 40; seed++) {
            RigFile rig = rig(seed);
            calibrate(rig, "output-1");
            CalibrationFile file = CalibrationFile.read(folder.resolve("cal.toml"), rig.config());
            Found error = errorAt(rig, file, "output-1", 5);
            looked++;
            within += Math.abs(error.value()) <= error.expandedU() ? 1 : 0;
        }
        // 95.45 % of 40 is 38.2; fewer than 34 would happen by chance once in a hundred thousand (binomial)
        assertTrue(within >= 34, within + " of " + looked);
    }

    @Test
    void aCalibratedChannelIsAsGoodAsTheReferenceNotAsTheDataSheet() throws Exception {
        RigFile rig = rig(1975);
        calibrate(rig, "output-1");
        CalibrationFile file = CalibrationFile.read(folder.resolve("cal.toml"), rig.config());
        Found error = errorAt(rig, file, "output-1", 5);

        // the data sheet's U at 5 V is 2.1 mV, 2 * hypot(0.02 % * 5 V, 0.3 mV)
        assertTrue(error.expandedU() < 0.0003, "U = " + error.expandedU());
        assertTrue(Math.abs(error.value()) <= error.expandedU(), error.toString());
    }

    @Test
    void otherChannelsStayInTheFile() throws Exception {
        RigFile rig = rig(7);
        calibrate(rig, "output-1");
        String before = Files.readString(folder.resolve("cal.toml"));
        assertEquals(List.of("output-2"), calibrate(rig, "output-2"));

        CalibrationFile file = CalibrationFile.read(folder.resolve("cal.toml"), rig.config());

        assertEquals(
                List.of("output-1", "output-2"), List.copyOf(file.channels().keySet()));
        assertTrue(Files.readString(folder.resolve("cal.toml")).startsWith(before));
        assertTrue(shown.stream().anyMatch(line -> line.contains("zero check") && line.endsWith("yes")));
    }

    @Test
    void mistakesAreToldBeforeAnythingIsAsked() throws Exception {
        RigFile rig = rig(7);
        CalibrationRequest request = new CalibrationRequest(
                rig,
                List.of("output-1", "nonsense"),
                METER,
                List.of(1.0, 1.0, 11.0),
                Period.ofMonths(12),
                Optional.empty());

        BadFileException bad = assertThrows(BadFileException.class, () -> CalibrationService.run(request, onlooker));

        assertEquals(3, bad.problems().size(), () -> bad.problems().toString());
        assertFalse(Files.exists(folder.resolve("cal.toml")));
    }

    @Test
    void withFewLevelsTheScatterIsWidened() {
        // exact line y = x with residuals +1, -1, -1, +1 at 0, 1, 3, 4 (times 1e-3): sd = sqrt(4e-6 / 2)
        ChannelCalibration line = CalibrationFit.of(
                List.of(0.0, 1.0, 3.0, 4.0),
                List.of(0.001, 0.999, 2.999, 4.001),
                METER,
                java.time.LocalDate.EPOCH,
                java.time.LocalDate.EPOCH);

        double sd = Math.sqrt(2e-6);
        assertEquals(1, line.gainRatio(), 1e-12);
        assertEquals(2, line.pivotDimensionless(), 1e-12);
        assertEquals(sd, line.residualSdDimensionless(), 1e-12);
        // GUM table G.2: t for 2 degrees of freedom and 95.45 % is 4.53; slope sd / sqrt(10)
        assertEquals(4.53 / 2 * sd / Math.sqrt(10), line.gainURatio(), 0.005 * line.gainURatio());
        assertEquals(4.53 / 2 * sd / 2, line.heightUDimensionless(), 0.005 * line.heightUDimensionless());
    }

    @Test
    void driftGrowsWithTheTimeSinceTheCalibration() {
        java.time.LocalDate on = java.time.LocalDate.parse("2026-01-01");
        ChannelCalibration line = new ChannelCalibration(1, 0, 5, 1e-6, 1e-5, 2e-5, METER, on, on.plusMonths(12), 0);

        Accuracy accuracy = line.accuracy(new Accuracy(1e-3, 1e-3, 1e-3, 3e-4), 1e-4, on.plusDays(183));

        assertEquals(1e-4 * 183 / 365.25, accuracy.driftRatio(), 1e-12);
        assertEquals(3e-4, accuracy.noiseDimensionless());
        assertEquals(2e-5, accuracy.nonLinearityDimensionless());
    }
}

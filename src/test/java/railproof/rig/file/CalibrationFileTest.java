package railproof.rig.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.rig.ChannelCalibration;

class CalibrationFileTest {
    private static final RigConfig RIG = BuiltInFiles.rig("one-rail-bench").config();

    private static CalibrationFile.Entry entry(Random random) {
        LocalDate on = LocalDate.parse("2026-03-02");
        return new CalibrationFile.Entry(
                new ChannelCalibration(
                        1 + 1e-3 * random.nextGaussian(),
                        1e-3 * random.nextGaussian(),
                        20 * random.nextDouble(),
                        1e-5 * random.nextDouble(),
                        1e-5 * random.nextDouble(),
                        1e-5 * random.nextDouble(),
                        new ChannelCalibration.Reference("meter \"\\ µ\", serial 7", 1e-5, 2e-5 * random.nextDouble()),
                        on,
                        on.plusMonths(12),
                        0),
                new CalibrationEvidence(
                        List.of(0.0, random.nextDouble(), 30.0),
                        List.of(1e-5, random.nextGaussian(), 30.001),
                        Optional.of(random.nextGaussian()),
                        random.nextBoolean()
                                ? Optional.empty()
                                : Optional.of(new CalibrationEvidence.LeadDrop(0.1, 2))));
    }

    @Test
    void whatIsWrittenReadsBack() throws BadFileException {
        long seed = 20260302;
        Random random = new Random(seed);
        for (int i = 0; i < 200; i++) {
            Map<String, CalibrationFile.Entry> channels = Map.of("output", entry(random), "heat-sink", entry(random));

            CalibrationFile read = CalibrationFile.parse("cal.toml", CalibrationText.of(RIG, "RB-0001", channels), RIG);

            assertEquals("RB-0001", read.boardSerial());
            for (String name : channels.keySet()) {
                CalibrationFile.Entry expected = Objects.requireNonNull(channels.get(name));
                CalibrationFile.Entry found =
                        Objects.requireNonNull(read.channels().get(name));
                assertEquals(expected.evidence(), found.evidence(), "seed " + seed + ", " + i);
                assertEquals(expected.line().gainRatio(), found.line().gainRatio());
                assertEquals(expected.line().offsetDimensionless(), found.line().offsetDimensionless());
                assertEquals(expected.line().dueOn(), found.line().dueOn());
                assertEquals(
                        expected.line().reference().meter(),
                        found.line().reference().meter());
                // written in percent: the last bit may be rounded
                assertEquals(
                        expected.line().gainURatio(),
                        found.line().gainURatio(),
                        1e-15 * expected.line().gainURatio());
            }
        }
    }

    @Test
    void everyMistakeIsSaidWithItsPlace() {
        String text =
                """
                rig = "another-bench"
                board_serial = "RB-0002"
                surprise = 1

                [channels.outptu]
                calibrated_on = "2026-13-01"
                due_on = "2027-01-01"
                reference = "meter 1"
                reference_gain_u_pct = 0.001
                reference_offset_u_V = 0
                gain = 17
                offset_V = 0
                pivot_V = 1
                gain_u_pct = 0
                height_u_V = 0
                residual_sd_V = -1
                nominal_V = [0, 1]
                reference_readings_V = [0, 1, 2]

                [channels.output]
                calibrated_on = "2026-03-01"
                due_on = "2026-02-01"
                reference = "meter 1"
                reference_gain_u_pct = 0.001
                reference_offset_u_V = 0
                gain = 1
                offset_V = 0
                pivot_V = 1
                gain_u_pct = 0
                height_u_V = 0
                residual_sd_V = 0
                nominal_V = [0, 1, 2, 3]
                reference_readings_V = [0, 1, 2]
                """;

        BadFileException bad = assertThrows(BadFileException.class, () -> CalibrationFile.parse("cal.toml", text, RIG));

        List<Integer> lines = bad.problems().stream().map(Problem::line).toList();
        // rig, board, unknown key, unknown channel, day, gain, residual, too few levels, due before made, lists differ
        assertEquals(List.of(1, 2, 3, 5, 6, 11, 16, 17, 22, 33), lines, () -> bad.problems()
                .toString());
        assertTrue(bad.problems().stream().allMatch(problem -> problem.file().equals("cal.toml")));
    }
}

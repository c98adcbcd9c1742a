package railproof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.judge.Check;
import railproof.judge.Comparison;
import railproof.judge.Judgement;
import railproof.judge.Verdict;
import railproof.profile.Band;
import railproof.profile.DecisionRule;

class TablesTest {
    @Test
    void theVerdictTableReadsAsMeant() {
        SampleRun sample = new SampleRun("LC2107", true, SampleRun.DONE);
        String line = "─".repeat(100);
        String expected =
                """
                Unit LC2107, as-left, profile lab-counter-12
                *** SIMULATED: no real unit was measured (lab-counter-12, healthy) ***
                %1$s
                Rail      Check                      Value ± U              Limit             TUR   Verdict
                %1$s
                +12 V     Output voltage, worst of   12.1691 ± 0.0091 V     11.88 … 12.36 V         pass
                          the load sweep
                +12 V     Load regulation, of        0.290 ± 0.047 %%        ≤ 0.5 %%                 pass
                          nominal
                +12 V     Ripple, peak to peak       40.2 ± 3.1 mV          ≤ 60 mV                 conditional fail
                          at 2 A
                +12 V     Line regulation            –                      ≤ 0.5 %%                 pass
                %1$s
                Verdict: conditional fail
                Load and line at the end: off, read back from the devices
                Rule: guard band as wide as U with conditional verdicts inside it (ILAC-G8:09/2019, 4.2.3)
                TUR: test uncertainty ratio, the width of what is allowed over 2 U
                """
                        .formatted(line);
        assertEquals(expected, VerdictTable.text(sample.data(), sample.judgement(Verdict.CONDITIONAL_FAIL)));
    }

    @Test
    void noLineIsWiderThanATerminalAndNoTextCanMoveItsCursor() {
        long seed = 21;
        Random random = new Random(seed);
        for (int i = 0; i < 200; i++) {
            SampleRun sample = new SampleRun(hostile(random), false, SampleRun.DONE);
            Check check = new Check(
                    "id",
                    hostile(random),
                    hostile(random),
                    Measured.of(1e9, 1e-9, Unit.HERTZ),
                    1e-9,
                    2,
                    Band.atMost(1),
                    Unit.HERTZ,
                    Verdict.FAIL,
                    hostile(random));
            Judgement judgement = new Judgement(hostile(random), "", DecisionRule.GUARD_BAND, List.of(check));
            String verdicts = VerdictTable.text(sample.data(), judgement);
            String comparison = ComparisonTable.text(Comparison.of(sample.data(), judgement, sample.data(), judgement));
            for (String line : (verdicts + comparison).split("\n", -1)) {
                assertTrue(line.codePointCount(0, line.length()) <= 100, "seed " + seed + ": " + line);
                assertFalse(line.chars().anyMatch(Character::isISOControl), "seed " + seed);
            }
        }
    }

    @Test
    void theComparisonShowsBothSidesAndWhetherTheChangeIsReal() {
        SampleRun sample = SampleRun.plain();
        Judgement before = sample.judgement(Verdict.FAIL);
        Check ripple = before.checks().get(2);
        Check better = new Check(
                ripple.id(),
                ripple.title(),
                ripple.rail(),
                Measured.of(0.0112, 0.00155, Unit.VOLT),
                0.0031,
                2,
                ripple.limit(),
                Unit.VOLT,
                Verdict.PASS,
                "");
        Judgement after = new Judgement("lab-counter-12", "ab12", DecisionRule.NON_BINARY, List.of(better));
        String table = ComparisonTable.text(Comparison.of(sample.data(), before, sample.data(), after));
        // 2·sqrt(2)·1.55 mV = 4.38 mV
        assertTrue(
                table.contains(
                        "+12 V     Ripple, peak to peak     40.2 ± 3.1 mV        11.2 ± 3.1 mV        -29.0 ± 4.4 mV"),
                table);
        assertTrue(table.contains("fail                 pass                 changed"), table);
        assertTrue(table.contains("CC 20 mA at 115 V line"), table);
        assertTrue(table.contains("Same rig file and calibration in both runs"), table);
    }

    private static String hostile(Random random) {
        StringBuilder text = new StringBuilder();
        int length = random.nextInt(150);
        for (int i = 0; i < length; i++) {
            text.appendCodePoint(random.nextInt(4) == 0 ? random.nextInt(0x20) : 0x20 + random.nextInt(0x2000));
        }
        return text.toString();
    }
}

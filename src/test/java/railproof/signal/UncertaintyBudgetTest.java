package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import railproof.signal.UncertaintyBudget.Distribution;
import railproof.signal.UncertaintyBudget.Entry;

class UncertaintyBudgetTest {
    private static final double INF = Double.POSITIVE_INFINITY;

    /** GUM (JCGM 100:2008) H.1, end gauge, nm: u = 32, effective degrees 16 (16.7), t99 = 2.92, U99 = 93. */
    @Test
    void endGaugeOfTheGum() {
        UncertaintyBudget difference = UncertaintyBudget.of(
                Entry.normal("repeated observations", 5.8, 24),
                Entry.normal("comparator, random", 3.9, 5),
                Entry.normal("comparator, systematic", 6.7, 8));
        assertEquals(9.7, difference.combinedU(), 0.05);
        assertEquals(25.6, difference.effectiveDof(), 0.3);

        UncertaintyBudget gauge = UncertaintyBudget.of(
                Entry.normal("standard", 25, 18),
                Entry.normal("difference", 9.7, 25.6),
                Entry.normal("expansion", 2.9, 50),
                Entry.normal("temperature", 16.6, 2));

        // printed: 32 and 16; recomputed from these contributions: 31.67 and 16.76
        assertEquals(31.65, gauge.combinedU(), 0.05);
        assertEquals(16.75, gauge.effectiveDof(), 0.05);
        assertEquals(2.92, gauge.coverageFactor(Coverage.P99), 0.005);
        assertEquals(93, gauge.expandedU(Coverage.P99), 1);
    }

    /** EA-4/02 M:2022, S9: a hand-held multimeter at 100 V, where one rectangle (the display) rules: k = 1.65. */
    @Test
    void oneRectangleRules() {
        UncertaintyBudget meter = UncertaintyBudget.of(
                Entry.normal("calibrator", 0.001, INF),
                Entry.resolution("display", 0.1),
                Entry.rectangular("calibrator's drift", 0.0064 * Math.sqrt(3)));

        assertEquals(0.030, meter.combinedU(), 0.0005);
        assertEquals(1.65, meter.coverageFactor(Coverage.P95), 0.005);
        assertEquals(0.05, meter.expandedU(Coverage.P95), 0.005);
    }

    @Test
    void twoRectanglesMakeATrapezoid() {
        UncertaintyBudget both = UncertaintyBudget.of(
                Entry.rectangular("first", 0.05), Entry.rectangular("second", 0.025), Entry.normal("small", 0.003, 9));

        assertEquals(1.83, both.coverageFactor(Coverage.P95), 0.005);
        // a third contribution of the same size makes it near enough normal
        UncertaintyBudget three = UncertaintyBudget.of(
                Entry.rectangular("first", 0.05), Entry.rectangular("second", 0.05), Entry.rectangular("third", 0.05));
        assertEquals(1.96, three.coverageFactor(Coverage.P95), 0.005);
    }

    /** EA-4/02 M:2022, S3: a 10 kilohm resistor, milliohms: u 8.33, U 17 at k = 2. */
    @Test
    void resistorOfEa402() {
        UncertaintyBudget resistor = UncertaintyBudget.of(
                Entry.normal("standard", 2.5, INF),
                Entry.normal("drift", 5.8, INF),
                Entry.normal("temperature of the standard", 1.6, INF),
                Entry.normal("temperature of the unknown", 3.2, INF),
                Entry.normal("ratio", 4.1e-7, INF).sensitivity(1e7),
                Entry.normal("parasitics", 7e-8, INF).sensitivity(1e7));

        assertEquals(8.33, resistor.combinedU(), 0.01 * 8.33);
        assertEquals(17, resistor.expandedU(Coverage.P95_45), 0.5);
    }

    /** EA-4/02 M:2022, S2: a 10 kg weight, mg: u 29.3. */
    @Test
    void weightOfEa402() {
        UncertaintyBudget weight = UncertaintyBudget.of(
                Entry.normal("standard", 22.5, INF),
                Entry.normal("drift", 8.95, INF),
                Entry.normal("difference", 14.4, 2),
                Entry.normal("comparator", 5.77, INF),
                Entry.normal("buoyancy", 5.77, INF));

        assertEquals(29.3, weight.combinedU(), 0.1);
    }

    /**
     * EA-4/02 M:2022, S11: a temperature block calibrator at 180 °C, mK: u = 164, U = 0.3 K (rows and results from
     * memory; the rows combine to the printed sum). The guide calls the two largest rectangles dominant, k = 1.81. All
     * else is 0.35 of them, more than the 0.3 of S9.14: here the larger factor stands, and rounds to the same U.
     */
    @Test
    void blockCalibratorOfEa402() {
        UncertaintyBudget block = UncertaintyBudget.of(
                Entry.normal("resistance thermometer", 15, INF),
                Entry.normal("resistance bridge", 10, INF),
                Entry.rectangular("drift of the thermometer", 40),
                Entry.resolution("display", 100),
                Entry.rectangular("between the bores", 100),
                Entry.rectangular("along the bore", 250),
                Entry.rectangular("load", 50),
                Entry.rectangular("hysteresis", 25),
                Entry.rectangular("stability", 30));

        assertEquals(164, block.combinedU(), 1);
        assertEquals(1.96, block.coverageFactor(Coverage.P95), 0.005);
        assertEquals(0.3, Math.round(block.expandedU(Coverage.P95) / 100) / 10.0);
        assertEquals(0.3, Math.round(1.81 * block.combinedU() / 100) / 10.0);
    }

    /** EA-4/02 M:2022, S12.14: two degrees of freedom for half of it: u 9.1e-4, 10 effective, k 2.28, U 2.0e-3. */
    @Test
    void fewDegreesOfFreedomNeedALargerFactor() {
        UncertaintyBudget budget =
                UncertaintyBudget.of(Entry.normal("repeated", 6.0e-4, 2), Entry.normal("known", 6.8e-4, INF));

        assertEquals(9.1e-4, budget.combinedU(), 0.05e-4);
        assertEquals(10.4, budget.effectiveDof(), 0.2);
        assertEquals(2.28, budget.coverageFactor(Coverage.P95_45), 0.005);
        assertEquals(2.0e-3, budget.expandedU(Coverage.P95_45), 0.1e-3);
    }

    /** GUM 4.3.7 and 4.3.9: half-width 1 gives 1/sqrt 3, 1/sqrt 6; a sine's amplitude 1/sqrt 2; a step 1/sqrt 12. */
    @Test
    void distributionsHaveTheirDivisors() {
        assertEquals(0.57735, Entry.rectangular("r", 1).contribution(), 1e-5);
        assertEquals(0.40825, new Entry("t", 1, Distribution.TRIANGULAR, 1, INF).contribution(), 1e-5);
        assertEquals(0.70711, new Entry("u", 1, Distribution.U_SHAPED, 1, INF).contribution(), 1e-5);
        assertEquals(0.70711, new Entry("u", 1, Distribution.U_SHAPED, -1, INF).contribution(), 1e-5);
        // 12 bits over 10 V: 0.70477 mV (standard result)
        assertEquals(0.70477e-3, Entry.resolution("q", 10.0 / 4096).contribution(), 1e-8);
    }

    @Test
    void refusesBadEntries() {
        assertThrows(IllegalArgumentException.class, () -> Entry.normal("x", -1, 5));
        assertThrows(IllegalArgumentException.class, () -> Entry.normal("x", 1, 0));
        assertThrows(IllegalArgumentException.class, () -> Entry.rectangular("x", Double.NaN));
        assertThrows(IllegalArgumentException.class, UncertaintyBudget::of);
    }
}

package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Unit;

class RegulationTest {
    private static final Measured AT_NO_LOAD = new Measured(5.00, 0.001, 0.010, 10, Unit.VOLT);
    private static final Measured AT_FULL_LOAD = new Measured(4.95, 0.001, 0.0099, 10, Unit.VOLT);

    /** 1.0000 % is a supply maker's published glossary example; the others follow by hand. */
    @Test
    void theThreeFormsOfThePublishedExample() {
        assertEquals(0.05, Regulation.difference(AT_NO_LOAD, AT_FULL_LOAD).value(), 1e-15);
        assertEquals(0.01, Regulation.ofNoLoad(AT_NO_LOAD, AT_FULL_LOAD).value(), 1e-9 * 0.01);
        assertEquals(1 / 99.0, Regulation.ofFullLoad(AT_NO_LOAD, AT_FULL_LOAD).value(), 1e-9 * 0.01);
        assertEquals(0.01, Regulation.ofBase(AT_NO_LOAD, AT_FULL_LOAD, 5).value(), 1e-9 * 0.01);
    }

    @Test
    void sharedPartsSubtractAndVaryingPartsAdd() {
        Measured difference = Regulation.difference(AT_NO_LOAD, AT_FULL_LOAD);

        assertEquals(0.0001, difference.sharedU(), 1e-12);
        assertEquals(0.001 * Math.sqrt(2), difference.randomU(), 1e-12);
        // two equal parts of 10 degrees each: 20 together (Welch and Satterthwaite)
        assertEquals(20, difference.randomDof(), 1e-9);
    }

    /** One unknown resistance r of u = 0.5 mΩ: u(r I) at 0 A and 4 A, the same at 4 A and 4 A (GUM 5.2.2, r = 1). */
    @Test
    void aDropInTheLeadsStaysInLoadRegulationAndGoesOutOfLineRegulation() {
        Measured noLoad = new Measured(5.00, 0, 0.001, 0, 9, Unit.VOLT);
        Measured fullLoad = new Measured(4.95, 0, 0.001, 0.002, 9, Unit.VOLT);

        assertEquals(0.002, Regulation.difference(noLoad, fullLoad).standardU(), 1e-15);
        assertEquals(0, Regulation.difference(fullLoad, fullLoad).standardU(), 1e-15);
        assertEquals(0.002 / 5, Regulation.ofBase(noLoad, fullLoad, 5).leadU(), 1e-15);
        // d/dF (N - F) / F = -N / F²
        assertEquals(
                0.002 * 5.00 / (4.95 * 4.95),
                Regulation.ofFullLoad(noLoad, fullLoad).leadU(),
                1e-15);
        assertEquals(
                Math.sqrt(2) * 0.002,
                Regulation.differenceOfStrangers(fullLoad, fullLoad).leadU(),
                1e-15);
        // the single reading has all of it, and the scatter's degrees of freedom grow by what is known exactly
        Measured both = new Measured(4.95, 0.001, 0, 0.001, 4, Unit.VOLT);
        assertEquals(Math.sqrt(2) * 0.001, both.standardU(), 1e-15);
        assertEquals(16, both.effectiveDof(), 1e-9);
        assertEquals(0.003, both.times(-3).leadU(), 1e-15);
    }

    @Test
    void readingsOfTwoChannelsShareNothing() {
        Measured difference = Regulation.differenceOfStrangers(AT_NO_LOAD, AT_FULL_LOAD);

        assertEquals(0.05, difference.value(), 1e-15);
        assertEquals(Math.hypot(0.010, 0.0099), difference.sharedU(), 1e-15);
        assertEquals(0.001 * Math.sqrt(2), difference.randomU(), 1e-12);
    }

    /** GUM G.4.2, example: 0.25 % from 10, 0.57 % from 5, 0.82 % from 15 readings: 19.0 (numbers from memory). */
    @Test
    void degreesOfFreedomPoolAsInTheGumsExample() {
        Measured first = new Measured(1, 0.25, 0, 9, Unit.VOLT);
        Measured second = new Measured(1, 0.57, 0, 4, Unit.VOLT);
        Measured third = new Measured(1, 0.82, 0, 14, Unit.VOLT);

        // the formula may be applied in two steps
        Measured all = Regulation.difference(Regulation.difference(first, second), third);

        assertEquals(19.0, all.randomDof(), 0.05);
        // a part without uncertainty does not count
        Measured exact = Measured.of(1, 0, Unit.VOLT);
        assertEquals(9, Regulation.difference(first, exact).randomDof(), 1e-12);
    }

    /** A pure gain error (shared part in proportion to the reading) cannot change a ratio. */
    @Test
    void gainErrorCancelsInARatio() {
        assertEquals(0, Regulation.ofNoLoad(AT_NO_LOAD, AT_FULL_LOAD).sharedU(), 1e-15);
        assertEquals(0, Regulation.ofFullLoad(AT_NO_LOAD, AT_FULL_LOAD).sharedU(), 1e-15);
    }

    /** Against brute force: 200 000 draws; three standard errors of a standard deviation are 0.5 %. */
    @Test
    void uncertaintyAgreesWithAMonteCarloRun() {
        long seed = 20260301;
        Random random = new Random(seed);
        double[] full = new double[200_000];
        for (int i = 0; i < full.length; i++) {
            double gain = 0.002 * random.nextGaussian();
            double noLoadV = 5.00 * (1 + gain) + 0.001 * random.nextGaussian();
            double fullLoadV = 4.95 * (1 + gain) + 0.001 * random.nextGaussian();
            full[i] = (noLoadV - fullLoadV) / fullLoadV;
        }

        Measured found = Regulation.ofFullLoad(AT_NO_LOAD, AT_FULL_LOAD);

        assertEquals(
                Statistics.of(full).sdDimensionless(), found.standardU(), 0.006 * found.standardU(), "seed " + seed);
    }

    /** Doubling all volts changes no ratio and doubles the difference. Seeds printed. */
    @Test
    void ratiosDoNotChangeWithScale() {
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            Measured a = new Measured(5 + random.nextDouble(), 0.001, 0.01, 5, Unit.VOLT);
            Measured b = new Measured(5 + random.nextDouble(), 0.002, 0.01, 7, Unit.VOLT);
            double factor = 0.1 + 40 * random.nextDouble();

            Measured ratio = Regulation.ofFullLoad(a, b);
            Measured scaled = Regulation.ofFullLoad(a.times(factor), b.times(factor));
            assertEquals(ratio.value(), scaled.value(), 1e-12, "seed " + seed);
            assertEquals(ratio.standardU(), scaled.standardU(), 1e-12, "seed " + seed);
            Measured difference = Regulation.difference(a.times(factor), b.times(factor));
            assertEquals(factor * (a.value() - b.value()), difference.value(), 1e-11, "seed " + seed);
        }
    }

    @Test
    void refusesAPercentageOfNothing() {
        Measured nothing = Measured.of(0, 0.001, Unit.VOLT);
        assertThrows(IllegalArgumentException.class, () -> Regulation.ofFullLoad(AT_NO_LOAD, nothing));
        assertThrows(IllegalArgumentException.class, () -> Regulation.ofNoLoad(nothing, AT_FULL_LOAD));
        assertThrows(IllegalArgumentException.class, () -> Regulation.ofBase(AT_NO_LOAD, AT_FULL_LOAD, 0));
    }

    /** First by definition; second from a transient against an a.c. analysis of the same circuit (0.2 dB apart). */
    @ParameterizedTest
    @CsvSource({"1.0, 0.001, 60.00, 1e-9", "0.3694, 0.00854, 32.72, 0.005", "0.3694, 0.00854, 32.89, 0.2"})
    void rippleRejection(double in, double out, double decibels, double tolerance) {
        assertEquals(decibels, RippleRejection.decibels(in, out), tolerance);
    }

    @Test
    void onePercentOfRippleIsOneTwelfthOfADecibel() {
        Measured out = Measured.of(0.001, 0.00001, Unit.VOLT);
        Measured found = RippleRejection.of(Measured.of(1, 0, Unit.VOLT), out);

        assertEquals(20 * Math.log10(1.01), found.standardU(), 0.001);
        assertTrue(found.unit() == Unit.DECIBEL);
    }
}

package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.signal.LimitTrace.Mode;
import railproof.signal.LimitTrace.Shape;
import railproof.signal.LimitTrace.TracePoint;

class LimitTraceTest {
    /**
     * A foldback supply in an independent circuit simulator, traced at constant voltage: 5.127 A at 5.0 V down to
     * 2.340 A at 0.1 V. Its rising part at constant current trips at 5.167 A and stays at 0.242 V, 2.42 A.
     */
    @Test
    void foldbackCurveOfACircuitSimulation() {
        List<TracePoint> points = rising(5.23, 4.6, 4.8, 5.0);
        points.add(new TracePoint(Mode.CONSTANT_CURRENT, 5.2, amperes(2.42), 0.242));
        double[][] curve = {{4.8, 5.020}, {4.5, 4.854}, {4, 4.575}, {3, 4.009}, {2, 3.436}, {1, 2.860}, {0.1, 2.340}};
        for (double[] pair : curve) {
            points.add(new TracePoint(Mode.TRACED, 0, amperes(pair[1]), pair[0]));
        }

        LimitTrace found = LimitTrace.of(points, 5.25, Optional.of(5.25));

        Measured onset = found.onset().orElseThrow().current();
        assertEquals(5.1, onset.value(), 1e-12);
        // true trip at 5.167 A lies inside the bracket of 5.0 to 5.2 A
        assertEquals(0.1 / Math.sqrt(3), onset.randomU(), 1e-4);
        assertEquals(2.340, found.shortCircuit().orElseThrow().current().value(), 0);
        assertEquals(Shape.FOLDBACK, found.shape());
    }

    /** A constant-current limit in the same simulator: 2.509 A at 11.4 V, 2.590 at 6 V, 2.645 into 0 V. */
    @Test
    void constantCurrentCurveOfACircuitSimulation() {
        List<TracePoint> points = List.of(
                new TracePoint(Mode.TRACED, 0, amperes(2.0), 12.134),
                new TracePoint(Mode.TRACED, 0, amperes(2.509), 11.4),
                new TracePoint(Mode.TRACED, 0, amperes(2.590), 6),
                new TracePoint(Mode.TRACED, 0, amperes(2.645), 0));

        LimitTrace found = LimitTrace.of(points, 12.169, Optional.of(12.168));

        assertEquals(Shape.CONSTANT_CURRENT, found.shape());
        // 5 % below 12.169 V is crossed between the first two points
        double onset = found.onset().orElseThrow().valueA();
        assertTrue(onset > 2.0 && onset < 2.509, "onset " + onset);
        assertEquals(2.645, found.shortCircuit().orElseThrow().current().value(), 0);
    }

    /** The same simulator: trips at 2.357 A and keeps 0.213 V when the load has gone, until the line is cycled. */
    @Test
    void outputThatStaysDownIsLatched() {
        List<TracePoint> points = rising(12.15, 2.1, 2.2, 2.3);
        points.add(new TracePoint(Mode.CONSTANT_CURRENT, 2.4, amperes(0.2), 0.2));

        assertEquals(
                Shape.LATCHING,
                LimitTrace.of(points, 12.169, Optional.of(0.213)).shape());
        assertEquals(
                Shape.FOLDBACK,
                LimitTrace.of(points, 12.169, Optional.of(12.17)).shape());
    }

    /** EA-4/02 M, S9: one dominant rectangle needs k = 0.9545 sqrt 3; a fine step under a poor meter needs 2. */
    @Test
    void expandedUncertaintyOfTheOnsetStaysWithinItsBracket() {
        LimitTrace.Onset coarse = new LimitTrace.Onset(2.5, 0.1, Measured.of(2.4, 0.002, Unit.AMPERE));
        LimitTrace.Onset fine = new LimitTrace.Onset(2.5, 0.001, Measured.of(2.4, 0.02, Unit.AMPERE));

        // a thirtieth of normal scatter beside the rectangle moves k by less than a hundredth
        assertEquals(0.9545 * Math.sqrt(3), coarse.coverageFactor(Coverage.P95_45), 0.01);
        assertTrue(coarse.coverageFactor(Coverage.P95_45) * coarse.current().standardU() < 0.1);
        assertEquals(2, fine.coverageFactor(Coverage.P95_45), 1e-3);
    }

    @Test
    void noLimitIsNone() {
        LimitTrace found = LimitTrace.of(rising(11.94, 2.5, 3.0, 3.5), 12.169, Optional.of(12.1));

        assertEquals(Shape.NONE, found.shape());
        assertEquals(3.5, found.highestHeldA(), 0);
        assertTrue(found.onset().isEmpty() && found.shortCircuit().isEmpty());
        assertEquals(
                Shape.UNCLEAR, LimitTrace.of(List.of(), 12, Optional.empty()).shape());
    }

    /**
     * Foldback limiter from its resistors: sense voltage 0.65 V; output, sense resistor, divider (regulator data-sheet table
     * "foldback current limiting"; values recomputed): short-circuit and knee current in the three sets.
     */
    @ParameterizedTest
    @CsvSource({
        "5, 0.4, 120, 500, 2.015, 5.015",
        "12, 1, 1000, 3300, 0.846970, 4.483333",
        "5, 10, 1000, 4700, 0.0788298, 0.1852128"
    })
    void findsKneeAndShortOfTheFoldbackFormula(
            double outV, double rscOhm, double r3Ohm, double r4Ohm, double shortA, double kneeA) {
        double k = r4Ohm / (r3Ohm + r4Ohm);
        List<TracePoint> points = rising(outV, kneeA * 0.96, kneeA * 0.98, kneeA);
        points.add(new TracePoint(Mode.CONSTANT_CURRENT, kneeA * 1.02, amperes(shortA), 0.0));
        for (double v = outV; v >= 0; v -= outV / 20) {
            points.add(new TracePoint(Mode.TRACED, 0, amperes((0.65 + v * (1 - k)) / (k * rscOhm)), v));
        }

        LimitTrace found = LimitTrace.of(points, outV, Optional.of(outV));

        Measured onset = found.onset().orElseThrow().current();
        assertEquals(kneeA, onset.value(), 0.0101 * kneeA, "half a step");
        assertEquals(shortA, found.shortCircuit().orElseThrow().current().value(), 1e-4 * shortA);
        assertEquals(Shape.FOLDBACK, found.shape());
    }

    @Test
    void loadThatDrawsAlittleMoreThanToldShiftsTheBracket() {
        List<TracePoint> points = new ArrayList<>();
        points.add(new TracePoint(Mode.CONSTANT_CURRENT, 2.0, amperes(2.02), 12.1));
        points.add(new TracePoint(Mode.CONSTANT_CURRENT, 2.2, amperes(2.1), 0.2));

        assertEquals(
                2.12,
                LimitTrace.of(points, 12.1, Optional.empty())
                        .onset()
                        .orElseThrow()
                        .valueA(),
                1e-12);
    }

    private static List<TracePoint> rising(double voltageV, double... levelsA) {
        List<TracePoint> points = new ArrayList<>();
        for (double a : levelsA) {
            points.add(new TracePoint(Mode.CONSTANT_CURRENT, a, amperes(a), voltageV));
        }
        return points;
    }

    private static Measured amperes(double value) {
        return Measured.of(value, 0.001, Unit.AMPERE);
    }
}

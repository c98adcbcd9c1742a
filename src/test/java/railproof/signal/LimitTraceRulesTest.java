package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.signal.LimitTrace.Mode;
import railproof.signal.LimitTrace.Onset;
import railproof.signal.LimitTrace.Shape;
import railproof.signal.LimitTrace.TracePoint;

/** The limits between one reading of a curve and another, on a rail of 10 V: held down to 9.5 V, down below 5 V. */
class LimitTraceRulesTest {
    private static final double ROUNDING = 1e-12;

    private static TracePoint asked(double askedA, double drawnA, double voltageV) {
        return new TracePoint(Mode.CONSTANT_CURRENT, askedA, amperes(drawnA), voltageV);
    }

    private static TracePoint traced(double drawnA, double voltageV) {
        return new TracePoint(Mode.TRACED, 0, amperes(drawnA), voltageV);
    }

    private static Measured amperes(double value) {
        return Measured.of(value, 0.001, Unit.AMPERE);
    }

    private static LimitTrace of(TracePoint... points) {
        return LimitTrace.of(List.of(points), 10, Optional.of(10.0));
    }

    private static void assertOnset(double valueA, double halfStepA, LimitTrace found) {
        Onset onset = found.onset().orElseThrow();
        assertEquals(valueA, onset.valueA(), ROUNDING);
        assertEquals(halfStepA, onset.halfStepA(), ROUNDING);
    }

    @Test
    void fivePercentBelowIsHeldAndNoMore() {
        LimitTrace found = of(asked(2, 2, 9.5), asked(3, 2.1, 9.49));

        assertEquals(2, found.highestHeldA(), 0);
        assertOnset(2.5, 0.5, found);
    }

    /** After the first drop the search goes back: the lowest level that fell and the highest below it that did not. */
    @Test
    void aSearchNarrowsTheBracketWhateverItsOrder() {
        LimitTrace found = of(
                asked(2, 2, 10),
                asked(4, 2.9, 0),
                asked(3, 2.9, 0.1),
                asked(2.5, 2.5, 10),
                asked(2.75, 2.75, 9.9),
                asked(3.5, 2.9, 0.05));

        assertOnset(2.875, 0.125, found);
        assertEquals(2.75, found.highestHeldA(), 0);
    }

    @Test
    void aLevelThatFellLaterWasNotHeld() {
        assertOnset(2.25, 0.25, of(asked(2, 2, 10), asked(2.5, 2.5, 10), asked(2.5, 2.1, 3)));
        // a held level above one that was not says nothing
        assertOnset(2.25, 0.25, of(asked(2, 2, 10), asked(2.5, 2.1, 3), asked(3, 3, 10)));
    }

    @Test
    void theShortIsThePointOfLeastVoltageBelowHalf() {
        TracePoint nearest = traced(3, 0.1);

        assertSame(
                nearest,
                of(nearest, traced(3.2, 0.4), traced(3.4, 4)).shortCircuit().orElseThrow());
        assertSame(
                nearest,
                of(traced(3.4, 4), traced(3.2, 0.4), nearest).shortCircuit().orElseThrow());
        assertTrue(of(traced(3.4, 5)).shortCircuit().isEmpty());
        assertTrue(of(traced(3.4, 4.99)).shortCircuit().isPresent());
    }

    /** Onset half-way between 3 and 5 A: 0.85 and 1.20 of it are 3.4 and 4.8 A, both inclusive. */
    @ParameterizedTest(name = "{0} A into a short")
    @CsvSource({
        "3.39, FOLDBACK",
        "3.4, CONSTANT_CURRENT",
        "4, CONSTANT_CURRENT",
        "4.8, CONSTANT_CURRENT",
        "4.81, UNCLEAR"
    })
    void theShapeIsTheShortsCurrentOverTheOnset(double shortA, Shape expected) {
        LimitTrace found = of(asked(3, 3, 10), asked(5, shortA, 0.1));

        assertEquals(expected, found.shape());
        assertFalse(found.sagged());
    }

    @Test
    void theOutputStaysDownBelowATenthOfIt() {
        List<TracePoint> points = List.of(asked(3, 3, 10), asked(5, 4, 0.1));

        assertEquals(
                Shape.LATCHING, LimitTrace.of(points, 10, Optional.of(0.99)).shape());
        assertEquals(
                Shape.CONSTANT_CURRENT,
                LimitTrace.of(points, 10, Optional.of(1.0)).shape());
        assertEquals(
                Shape.CONSTANT_CURRENT,
                LimitTrace.of(points, 10, Optional.empty()).shape());
    }

    /** A load at 4 A that still draws 3.8 A (95 %) above half the floor's 9.5 V gets what it asks for: no limit. */
    @ParameterizedTest(name = "{0} A drawn of 4 A at {1} V")
    @CsvSource({"4, 9, true", "3.8, 9, true", "3.79, 9, false", "4.3, 4.76, true", "4.3, 4.75, false"})
    void anOutputThatSagsWhileTheLoadGetsItsCurrentIsNotLimited(double drawnA, double voltageV, boolean sagged) {
        LimitTrace found = of(asked(3, 3, 10), asked(4, drawnA, voltageV));

        assertEquals(sagged, found.sagged());
        assertEquals(sagged, found.shape() == Shape.NONE);
        assertOnset(3.5, 0.5, found);
    }

    /** A soft limiter: the output sags through the band first, and refuses a higher level later. */
    @Test
    void aHigherLevelThatIsRefusedShowsALimitAfterAll() {
        TracePoint[] sags = {asked(3, 3, 10), asked(4, 4, 9), asked(5, 4.9, 8)};
        assertTrue(of(sags).sagged());

        assertFalse(of(sags[0], sags[1], asked(5, 4.5, 8)).sagged());
        assertFalse(of(sags[0], sags[1], asked(5, 5, 4)).sagged());
        // a level that was held is no refusal, whatever it drew, and points of another kind neither
        assertTrue(of(sags[0], sags[1], asked(2.5, 1, 9.6)).sagged());
        assertTrue(of(sags[0], sags[1], traced(1, 8)).sagged());
    }

    /** Onset between 3 and 5 A, the output sagging there: a short that takes at most 1.2 times 4 A shows a limit. */
    @ParameterizedTest(name = "{0} A into a short")
    @CsvSource({"2, false", "4.8, false", "4.81, true", "20, true"})
    void aShortThatTakesNoMoreThanAConstantLimitShowsALimit(double shortA, boolean sagged) {
        LimitTrace found = of(asked(3, 3, 10), asked(5, 5, 9), traced(shortA, 0.1));

        assertEquals(sagged, found.sagged());
        assertOnset(4, 1, found);
    }

    @Test
    void aSagFromTheFirstLevelOnHasNoOnset() {
        LimitTrace found = of(asked(3, 3, 9), traced(2, 0.1));

        assertTrue(found.sagged());
        assertTrue(found.onset().isEmpty());
        assertEquals(0, found.highestHeldA(), 0);
        assertEquals(Shape.UNCLEAR, found.shape());
    }

    /** Traced only: between 9.8 V at 2 A and 9.0 V at 4 A the 9.5 V are three eighths of the way. */
    @Test
    void aTracedCurveLeavesItsBandBetweenTwoPoints() {
        LimitTrace found = of(traced(1, 10), traced(2, 9.8), traced(4, 9.0), traced(3.9, 0));
        assertOnset(2.75, 1, found);
        assertEquals(2, found.onset().orElseThrow().beside().value(), 0, "the nearer reading");
        assertEquals(Shape.UNCLEAR, found.shape(), "3.9 A are more than 1.2 of 2.75 A");

        LimitTrace folding = of(traced(5, 9.6), traced(4, 9.2), traced(1, 0));
        assertOnset(4.75, 0.5, folding);
        assertEquals(Shape.FOLDBACK, folding.shape());
        // half-way and beyond it is the second
        assertEquals(
                4,
                of(traced(2, 10), traced(4, 9)).onset().orElseThrow().beside().value(),
                0);
    }

    @Test
    void aTracedPointOnTheBandsEdgeIsHeld() {
        assertOnset(2, 0.2, of(traced(1, 10), traced(2, 9.5), traced(2.4, 9)));
        assertTrue(of(traced(1, 10), traced(2, 9.5)).onset().isEmpty());
        assertTrue(of(traced(1, 9), traced(2, 8)).onset().isEmpty());
        assertTrue(of(traced(1, 9), traced(0.5, 10)).onset().isEmpty());
    }

    /** With points at constant current the traced ones do not stand in for a bracket that was not found. */
    @Test
    void pointsAtConstantCurrentRuleOutTheTracedOnset() {
        assertTrue(of(asked(1, 1, 10), traced(2, 10), traced(3, 9), traced(3, 1))
                .onset()
                .isEmpty());
    }

    /** Half a step of 0.4 √3 A is a standard uncertainty of 0.4 A, with 0.3 A of the reading's 0.5 A in all. */
    @Test
    void theOnsetHasItsStepAndItsReadingInItsUncertainty() {
        Measured beside = new Measured(2.4, 0.3, 0.1, 10, Unit.AMPERE);
        Onset onset = new Onset(2.5, 0.4 * Math.sqrt(3), beside);

        Measured current = onset.current();

        assertEquals(2.5, current.value(), 0);
        assertEquals(0.5, current.randomU(), ROUNDING);
        assertEquals(0.1, current.sharedU(), 0);
        // Welch and Satterthwaite (GUM G.4.1): only the reading has a finite number, 10
        assertEquals(10 * Math.pow(0.5 / 0.3, 4), current.randomDof(), 1e-9);
        double reading = Math.hypot(0.3, 0.1);
        double all = Math.hypot(reading, 0.4);
        double dof = Math.pow(all, 4) / (Math.pow(reading, 4) / beside.effectiveDof());
        assertEquals(Coverage.P95.factor(dof), onset.coverageFactor(Coverage.P95), 1e-9);
    }

    @Test
    void aReadingWithoutScatterLeavesEndlessDegreesOfFreedom() {
        assertEquals(
                Double.POSITIVE_INFINITY,
                new Onset(2, 0.1, new Measured(2, 0, 0.1, 5, Unit.AMPERE))
                        .current()
                        .randomDof());
        assertEquals(
                Double.POSITIVE_INFINITY,
                new Onset(2, 0, new Measured(2, 0, 0.1, 5, Unit.AMPERE))
                        .current()
                        .randomDof());
        // no step: the reading alone, normal
        assertEquals(2.0, new Onset(2, 0, Measured.of(2, 0.1, Unit.AMPERE)).coverageFactor(Coverage.P95_45), 1e-3);
    }

    @Test
    void refusesAReferenceOfNothing() {
        assertEquals(
                "reference voltage must be finite and above zero, got 0.0",
                Refusal.of(() -> LimitTrace.of(List.of(), 0, Optional.empty())));
    }
}

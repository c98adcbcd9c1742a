package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.DecisionRule;
import railproof.profile.DynamicLimits;
import railproof.profile.LimitShape;
import railproof.profile.Profile;
import railproof.profile.RailLimits;
import railproof.run.CrossNote;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/** The checks of changes, on points made by hand. */
class DynamicChecksTest {
    private static final String RAIL = "+12 V";

    private static Point point(int index, Section section, String mode, String note, Map<Quantity, Reading> readings) {
        return new Point(
                index,
                section,
                RAIL,
                new Setpoint(mode, mode.equals("off") ? 0 : 1, 115),
                index,
                true,
                readings,
                OptionalInt.empty(),
                note);
    }

    static Map<Quantity, Reading> only(Quantity quantity, Reading reading) {
        return new EnumMap<>(Map.of(quantity, reading));
    }

    private static Reading seconds(double value) {
        return Measured.of(value, 1e-5, Unit.SECOND);
    }

    static List<Check> checks(DynamicLimits limits, LimitShape shape, List<Point> points) {
        RunData empty = new BenchRun().data();
        return checks(limits, shape, new RunData(empty.header(), points, List.of(), List.of(), empty.outcome()));
    }

    private static List<Check> checks(DynamicLimits limits, LimitShape shape, RunData run) {
        RailLimits limitsOfChange = new RailLimits(
                BenchRun.limits().outputV(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                limits);
        Profile profile = BenchRun.profile(DecisionRule.SIMPLE_ACCEPTANCE, shape, limitsOfChange, 12);
        return new DynamicChecks(new Subject(run, profile, profile.rails().get(0))).all();
    }

    private static DynamicLimits recovery(double maxS) {
        return limits(Optional.of(maxS), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    private static DynamicLimits limits(
            Optional<Double> recoveryS,
            Optional<Double> startS,
            Optional<Double> holdUpS,
            Optional<Double> lineV,
            Optional<Double> crossRatio) {
        return new DynamicLimits(
                recoveryS,
                Optional.empty(),
                startS,
                Optional.empty(),
                holdUpS,
                lineV,
                Optional.empty(),
                crossRatio,
                Optional.empty(),
                Optional.empty());
    }

    @Test
    void theSlowerStepCounts() {
        List<Check> checks = checks(
                recovery(1e-3),
                LimitShape.NONE,
                List.of(
                        point(0, Section.LOAD_STEP, "CC", "up", only(Quantity.TRANSIENT_TIME, seconds(2e-4))),
                        point(1, Section.LOAD_STEP, "CC", "down", only(Quantity.TRANSIENT_TIME, seconds(2e-3)))));

        assertEquals(Verdict.FAIL, checks.get(0).verdict());
        assertTrue(checks.get(0).detail().startsWith("down"), checks.get(0)::detail);
    }

    /**
     * A change comes anywhere between two samples, 40 µs apart: where that rules, k is 0.9545 √3 (EA-4/02 M, S9); where the
     * rest does, 2; and without the capture nothing is known of the spacing.
     */
    @ParameterizedTest
    @CsvSource({
        "0, 11.547005384e-6, 1.6532",
        "0, 200e-6, 2.000",
        "0, 14.142e-6, 1.901",
        "-1, 11.547e-6, 2.000",
        "0, 5e-6, 2.000"
    })
    void theSampleSpacingOfATimeIsARectangle(int capture, double standardUS, double k) {
        RunData empty = new BenchRun().data();
        Point step = new Point(
                0,
                Section.LOAD_STEP,
                RAIL,
                new Setpoint("CC", 1, 115),
                0,
                true,
                only(Quantity.TRANSIENT_TIME, Measured.of(1e-3, standardUS, Unit.SECOND)),
                capture < 0 ? OptionalInt.empty() : OptionalInt.of(capture),
                "up");
        Waveform other = new Waveform(1, Section.LOAD_STEP, RAIL, 0, 1000, List.of());
        Waveform own = new Waveform(0, Section.LOAD_STEP, RAIL, 0, 25_000, List.of());
        RunData run = new RunData(empty.header(), List.of(step), List.of(other, own), List.of(), empty.outcome());

        Check check = checks(recovery(5e-3), LimitShape.CONSTANT_CURRENT, run).get(0);

        assertEquals(k, check.coverageDimensionless(), 0.0015);
        assertEquals(check.coverageDimensionless() * standardUS, check.expandedU(), 1e-15);
    }

    /** Both deviations on record: the farther one counts, on whichever side it lies. */
    @ParameterizedTest
    @CsvSource({"0.040, 0.030, 0.040", "0.030, 0.041, 0.041"})
    void theFartherDeviationCounts(double underV, double overV, double expectedV) {
        Map<Quantity, Reading> both = only(Quantity.UNDERSHOOT, Measured.of(underV, 1e-4, Unit.VOLT));
        both.put(Quantity.OVERSHOOT, Measured.of(overV, 1e-4, Unit.VOLT));
        DynamicLimits limits = new DynamicLimits(
                Optional.empty(),
                Optional.of(0.1),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());

        Check check = checks(
                        limits, LimitShape.CONSTANT_CURRENT, List.of(point(0, Section.LOAD_STEP, "CC", "up", both)))
                .get(0);

        assertEquals("step-deviation", check.id());
        assertEquals(expectedV, check.value().measured().orElseThrow().value(), 0);
    }

    /** Of the points of the limit's search only those that look at the way back have a time. */
    @Test
    void overloadRecoveryAndOvershootAreJudgedWhereTheyWereSeen() {
        Map<Quantity, Reading> start = only(Quantity.TRANSIENT_TIME, seconds(0.02));
        start.put(Quantity.OVERSHOOT, Measured.of(0.3, 1e-3, Unit.VOLT));
        List<Point> points = List.of(
                point(0, Section.START_UP, "CR", "into a resistance", start),
                point(1, Section.CURRENT_LIMIT, "CC", "", only(Quantity.OUTPUT, Measured.of(12, 1e-3, Unit.VOLT))),
                point(2, Section.CURRENT_LIMIT, "off", "let go", only(Quantity.TRANSIENT_TIME, seconds(0.004))));
        DynamicLimits limits = new DynamicLimits(
                Optional.empty(),
                Optional.empty(),
                Optional.of(0.05),
                Optional.of(0.2),
                Optional.empty(),
                Optional.empty(),
                Optional.of(0.01),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());

        List<Check> checks = checks(limits, LimitShape.CONSTANT_CURRENT, points);

        assertEquals(
                List.of("start-up-time", "start-up-overshoot", "overload-recovery"),
                checks.stream().map(Check::id).toList());
        assertEquals(
                List.of(Verdict.PASS, Verdict.FAIL, Verdict.PASS),
                checks.stream().map(Check::verdict).toList());
        assertEquals(0.004, checks.get(2).value().measured().orElseThrow().value(), 0);
    }

    @Test
    void aStepThatNeverRecoversCannotPass() {
        List<Check> checks = checks(
                recovery(1e-3),
                LimitShape.NONE,
                List.of(
                        point(0, Section.LOAD_STEP, "CC", "up", only(Quantity.TRANSIENT_TIME, seconds(2e-4))),
                        point(
                                1,
                                Section.LOAD_STEP,
                                "CC",
                                "down",
                                only(Quantity.TRANSIENT_TIME, new Missing("it rang on")))));

        assertEquals(Verdict.NOT_JUDGED, checks.get(0).verdict());
        assertTrue(checks.get(0).detail().contains("it rang on"));
    }

    @Test
    void aFoldbackRailNeedNotStartIntoAConstantCurrentButAllOthersMust() {
        List<Point> points = List.of(
                point(0, Section.START_UP, "CR", "into a resistance", only(Quantity.TRANSIENT_TIME, seconds(0.05))),
                point(
                        1,
                        Section.START_UP,
                        "CC",
                        "into a constant current",
                        only(Quantity.TRANSIENT_TIME, new Missing("down"))));
        DynamicLimits limits =
                limits(Optional.empty(), Optional.of(0.1), Optional.empty(), Optional.empty(), Optional.empty());

        assertEquals(
                Verdict.PASS, checks(limits, LimitShape.FOLDBACK, points).get(0).verdict());
        assertEquals(
                Verdict.NOT_JUDGED,
                checks(limits, LimitShape.CONSTANT_CURRENT, points).get(0).verdict());
    }

    @Test
    void holdUpMustBeAtLeastAsLong() {
        DynamicLimits limits =
                limits(Optional.empty(), Optional.empty(), Optional.of(0.02), Optional.empty(), Optional.empty());

        assertEquals(
                Verdict.PASS,
                checks(
                                limits,
                                LimitShape.NONE,
                                List.of(point(
                                        0, Section.HOLD_UP, "CC", "", only(Quantity.TRANSIENT_TIME, seconds(0.03)))))
                        .get(0)
                        .verdict());
        assertEquals(
                Verdict.FAIL,
                checks(
                                limits,
                                LimitShape.NONE,
                                List.of(point(
                                        0, Section.HOLD_UP, "CC", "", only(Quantity.TRANSIENT_TIME, seconds(0.01)))))
                        .get(0)
                        .verdict());
        assertEquals(
                Verdict.NOT_JUDGED,
                checks(limits, LimitShape.NONE, List.of()).get(0).verdict());
    }

    /** Off at 90° the output stands for 20 ms, and for less by as much as the line goes later, to 150° at 60 Hz. */
    @Test
    void holdUpIsJudgedAtThePhaseAtWhichItIsLeast() {
        DynamicLimits limits =
                limits(Optional.empty(), Optional.empty(), Optional.of(0.0172), Optional.empty(), Optional.empty());
        double lineHz = 60;
        double conductsAtCycles = 150.0 / 360;
        List<Point> points = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            double cycles = (0.25 + i * (0.5 + 0.5 / 12)) % 1;
            double sinceCycles = ((cycles % 0.5) - conductsAtCycles + 0.5) % 0.5;
            double holdsS = 0.025 - sinceCycles / lineHz;
            points.add(point(
                    i,
                    Section.HOLD_UP,
                    "CC",
                    "line off",
                    Map.of(
                            Quantity.TRANSIENT_TIME,
                            seconds(holdsS),
                            Quantity.LINE_PHASE,
                            Measured.of(cycles, 1e-3, Unit.RATIO))));
        }
        double leastS = 0.025 - 0.5 / lineHz;

        Check check = checks(limits, LimitShape.NONE, points).get(0);

        Measured value = check.value().measured().orElseThrow();
        assertEquals(leastS, value.value(), check.expandedU(), check::detail);
        assertTrue(check.expandedU() < 1 / lineHz / 12, check::detail);
        assertTrue(check.detail().contains("shortest of 12 phases"), check::detail);
        assertEquals(Verdict.FAIL, check.verdict(), check::detail);
    }

    @Test
    void theLastLineOfTheSearchIsTheDropoutLine() {
        DynamicLimits limits =
                limits(Optional.empty(), Optional.empty(), Optional.empty(), Optional.of(100.0), Optional.empty());

        Check check = checks(
                        limits,
                        LimitShape.NONE,
                        List.of(
                                point(
                                        0,
                                        Section.DROPOUT_LINE,
                                        "CC",
                                        "",
                                        only(Quantity.LINE, Measured.of(103, 0.1, Unit.VOLT))),
                                point(
                                        1,
                                        Section.DROPOUT_LINE,
                                        "CC",
                                        "lost",
                                        only(Quantity.LINE, Measured.of(96, 0.1, Unit.VOLT)))))
                .get(0);

        assertEquals(Verdict.PASS, check.verdict());
        assertEquals(96, check.value().measured().map(Measured::value).orElseThrow());
    }

    @Test
    void crossRegulationIsTheChangeBetweenThePairOfOneAggressor() {
        DynamicLimits limits =
                limits(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.of(0.01));
        // 12.00 to 11.82 V: 1.5 % of nominal
        List<Point> points = List.of(
                volts(0, "+5 V", false, 12.0),
                volts(1, "-12 V", false, 12.0),
                volts(2, "+5 V", true, 11.99),
                volts(3, "-12 V", true, 11.82));

        Check check = checks(limits, LimitShape.NONE, points).get(0);

        assertEquals(Verdict.FAIL, check.verdict());
        assertEquals(0.015, check.value().measured().map(Measured::value).orElseThrow(), 1e-12);
        assertEquals("-12 V", CrossNote.of(points.get(3).note()).orElseThrow().aggressor());
    }

    private static Point volts(int index, String aggressor, boolean high, double volts) {
        return point(
                index,
                Section.CROSS_REGULATION,
                "CC",
                new CrossNote(aggressor, high).text(),
                only(Quantity.OUTPUT, Measured.of(volts, 1e-4, Unit.VOLT)));
    }
}

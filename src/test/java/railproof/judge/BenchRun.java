package railproof.judge;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.BurnInPlan;
import railproof.profile.Convention;
import railproof.profile.DecisionRule;
import railproof.profile.DynamicLimits;
import railproof.profile.LimitShape;
import railproof.profile.LineRating;
import railproof.profile.Plan;
import railproof.profile.Profile;
import railproof.profile.Program;
import railproof.profile.Rail;
import railproof.profile.RailLimits;
import railproof.profile.RegulationLimit;
import railproof.profile.SourceText;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Stage;

/**
 * A run as the bench would record it, point by point, for a rail whose figures come from an independent circuit
 * simulator (a 12 V, 2 A Darlington regulator with current limit at 2.5 A): output 12.169 V without load, 12.134 V at
 * 2 A, limit 2.509 A at 11.4 V, 2.645 A into a short.
 */
final class BenchRun {
    static final double LINE_V = 230;

    private final List<Point> points = new ArrayList<>();
    private final List<RunEvent> events = new ArrayList<>();
    private RunOutcome outcome = new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), SafeState.CONFIRMED);
    private double sign = 1;

    static BenchRun empty() {
        return new BenchRun();
    }

    static BenchRun healthy() {
        BenchRun run = new BenchRun();
        run.add(Section.NO_LOAD, Setpoint.noLoad(LINE_V), 12.169, 0, "");
        run.add(Section.LOAD_SWEEP, Setpoint.noLoad(LINE_V), 12.169, 0, "");
        run.add(Section.LOAD_SWEEP, new Setpoint("CC", 1, LINE_V), 12.151, 1, "");
        run.add(Section.LOAD_SWEEP, new Setpoint("CC", 2, LINE_V), 12.134, 2, "");
        run.add(Section.LINE_SWEEP, new Setpoint("CC", 2, 207), 12.085, 2, "");
        run.add(Section.LINE_SWEEP, new Setpoint("CC", 2, LINE_V), 12.134, 2, "");
        run.add(Section.LINE_SWEEP, new Setpoint("CC", 2, 253), 12.177, 2, "");
        run.add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.2, LINE_V), 12.130, 2.2, "");
        run.add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.4, LINE_V), 12.120, 2.4, "");
        run.add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.6, LINE_V), 0.25, 2.63, "collapsed");
        run.add(Section.CURRENT_LIMIT, new Setpoint("CV", 11.4, LINE_V), 11.4, 2.509, "traced");
        run.add(Section.CURRENT_LIMIT, new Setpoint("CV", 6, LINE_V), 6.0, 2.590, "traced");
        run.add(Section.CURRENT_LIMIT, new Setpoint("CV", 0, LINE_V), 0.1, 2.645, "traced");
        run.add(Section.RECOVERY, Setpoint.noLoad(LINE_V), 12.168, 0, "");
        return run;
    }

    /** The same rail turned round: outputs are negative from here on and in the points so far. */
    BenchRun turnedRound() {
        sign = -1;
        return change(point -> true, Quantity.OUTPUT, reading -> reading.measured()
                .orElseThrow()
                .times(-1));
    }

    BenchRun add(Section section, Setpoint asked, double outputV, double currentA, String note) {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        readings.put(Quantity.OUTPUT, new Measured(sign * outputV, 0.0005, 0.003, 20, Unit.VOLT));
        readings.put(Quantity.LOAD_CURRENT, new Measured(currentA, 0.001, 0.002, 20, Unit.AMPERE));
        readings.put(Quantity.RIPPLE_PP, new Measured(0.001 + 0.0105 * currentA, 0.0002, 0.0001, 9, Unit.VOLT));
        readings.put(Quantity.RIPPLE_RMS, new Measured(0.0003 + 0.0031 * currentA, 0.00006, 0.00003, 9, Unit.VOLT));
        readings.put(Quantity.LINE, new Measured(asked.lineV() + 0.4, 0.1, 0.5, 9, Unit.VOLT));
        points.add(new Point(
                points.size(), section, "+12 V", asked, points.size(), true, readings, OptionalInt.empty(), note));
        return this;
    }

    BenchRun change(Predicate<Point> which, Quantity quantity, UnaryOperator<Reading> how) {
        points.replaceAll(point -> {
            if (!which.test(point)) {
                return point;
            }
            Map<Quantity, Reading> readings = new EnumMap<>(point.readings());
            readings.compute(quantity, (q, reading) -> how.apply(point.reading(q)));
            return new Point(
                    point.index(),
                    point.section(),
                    point.rail(),
                    point.asked(),
                    point.elapsedS(),
                    point.settled(),
                    readings,
                    point.waveform(),
                    point.note());
        });
        return this;
    }

    BenchRun without(Predicate<Point> which) {
        points.removeIf(which);
        return this;
    }

    BenchRun event(RunEvent event) {
        events.add(event);
        return this;
    }

    BenchRun ended(RunOutcome.End end, String cause) {
        outcome = new RunOutcome(end, cause, List.of(), SafeState.CONFIRMED);
        return this;
    }

    RunData data() {
        SourceText none = new SourceText("none", "", "");
        RunHeader header = new RunHeader(
                "20260301T120000Z-T1-as-left",
                "T1",
                Stage.AS_LEFT,
                "",
                Instant.parse("2026-03-01T12:00:00Z"),
                "test",
                none,
                none,
                none,
                true,
                "healthy",
                List.of());
        return new RunData(header, points, List.of(), events, outcome);
    }

    static RailLimits limits() {
        return new RailLimits(
                new Band(11.8, 12.4),
                Optional.of(new RegulationLimit(0.005, Convention.OF_FULL_LOAD)),
                Optional.of(new RegulationLimit(0.15, Convention.IN_VOLTS)),
                Optional.of(0.05),
                Optional.of(0.015),
                Optional.of(new Band(2.2, 2.8)),
                Optional.of(new Band(2.2, 3.0)),
                DynamicLimits.NONE);
    }

    static Profile profile(DecisionRule rule) {
        return profile(rule, LimitShape.CONSTANT_CURRENT, limits(), 12);
    }

    static Profile profile(DecisionRule rule, LimitShape shape, RailLimits limits, double nominalV) {
        return profile(rule, shape, limits, nominalV, BurnInPlan.DEFAULT);
    }

    static Profile profile(DecisionRule rule, LimitShape shape, RailLimits limits, double nominalV, BurnInPlan burnIn) {
        Plan plan = new Plan(
                List.of(0.0, 0.5, 1.0),
                10,
                0.0002,
                Duration.ofSeconds(5),
                0.1,
                Duration.ofSeconds(1),
                Duration.ofSeconds(5),
                Program.DEFAULT,
                burnIn);
        return new Profile(
                "tape-machine-12v",
                "Tape machine supply",
                List.of(new Rail("+12 V", nominalV, 2, 0, 15, shape, 3.5, limits, Optional.empty())),
                new LineRating(LINE_V, 207, 253, 50),
                plan,
                rule,
                List.of(),
                Map.of());
    }
}

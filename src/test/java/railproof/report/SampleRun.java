package railproof.report;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Unit;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.Verdict;
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
import railproof.run.ChannelAccuracy;
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
import railproof.run.Waveform;

/** A run of an invented counter's 12 V supply, with everything a page can show. */
record SampleRun(String serial, boolean simulated, RunOutcome outcome) {
    static final RunOutcome DONE = new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), SafeState.CONFIRMED);

    static SampleRun plain() {
        return new SampleRun("LC2107", false, DONE);
    }

    Profile profile() {
        RailLimits limits = new RailLimits(
                new Band(11.88, 12.36),
                Optional.of(new RegulationLimit(0.005, Convention.OF_NOMINAL)),
                Optional.empty(),
                Optional.of(0.06),
                Optional.empty(),
                Optional.of(new Band(2.2, 3.0)),
                Optional.empty(),
                DynamicLimits.NONE);
        Rail rail = new Rail("+12 V", 12, 2, 0, 14, LimitShape.FOLDBACK, 3.5, limits, Optional.empty());
        Plan plan = new Plan(
                List.of(0.0, 1.0),
                6,
                1e-4,
                Duration.ofSeconds(5),
                0.02,
                Duration.ofSeconds(1),
                Duration.ofSeconds(5),
                Program.DEFAULT,
                BurnInPlan.DEFAULT);
        return new Profile(
                "lab-counter-12",
                "Laboratory counter, 12 V 2 A supply",
                List.of(rail),
                new LineRating(115, 104, 127, 60),
                plan,
                DecisionRule.NON_BINARY,
                List.of("The chassis of this type is the positive output."),
                Map.of());
    }

    RunData data() {
        List<Point> points = new ArrayList<>();
        // output over load of a Darlington regulator, from a circuit simulation
        double[] amps = {0, 0.02, 0.2, 1, 2};
        double[] volts = {12.16911, 12.16795, 12.16392, 12.15129, 12.13430};
        for (int i = 0; i < amps.length; i++) {
            points.add(point(
                    points.size(),
                    Section.LOAD_SWEEP,
                    amps[i],
                    volts[i],
                    i == 4 ? OptionalInt.of(0) : OptionalInt.empty()));
        }
        double[] limitAmps = {2.1, 2.4, 2.6, 2.2, 1.6, 1.1, 0.8};
        double[] limitVolts = {12.13, 12.05, 11.2, 8.0, 4.9, 2.1, 0.1};
        for (int i = 0; i < limitAmps.length; i++) {
            points.add(point(points.size(), Section.CURRENT_LIMIT, limitAmps[i], limitVolts[i], OptionalInt.empty()));
        }
        double[] ripple = new double[4000];
        Arrays.setAll(ripple, i -> 12.1343 + 0.02 * (1 - 2 * (i / 333.333 % 1)));
        Waveform waveform = new Waveform(
                0, Section.LOAD_SWEEP, "+12 V", 4, 40_000, List.of(new Waveform.Trace("output_V", ripple)));
        RunEvent end = new RunEvent.RunEnded(95, Instant.parse("2026-11-25T10:17:05Z"), outcome);
        RunEvent channel = new RunEvent.ChannelUsed(
                0,
                new ChannelAccuracy(
                        "+12 V",
                        Quantity.OUTPUT,
                        "output",
                        1e-4,
                        0.001,
                        0,
                        0,
                        0.0005,
                        0.0002,
                        0.0006,
                        0,
                        0,
                        Optional.of(new ChannelAccuracy.Calibrated(
                                LocalDate.parse("2026-03-02"), LocalDate.parse("2027-03-02"), "bench meter, 0012"))));
        return new RunData(header(), points, List.of(waveform), List.of(channel, end), outcome);
    }

    private RunHeader header() {
        return new RunHeader(
                "20261125T101530Z_LC2107_as-left",
                serial,
                Stage.AS_LEFT,
                "bench 2",
                Instant.parse("2026-11-25T10:15:30Z"),
                "0.1.0",
                new SourceText("lab-counter-12.toml", "", "ab12"),
                new SourceText("bench-2.toml", "", "cd34"),
                new SourceText("bench-2-cal.toml", "x", "ef56"),
                simulated,
                simulated ? "lab-counter-12, healthy" : "",
                List.of("board: 24-bit, serial 0007"));
    }

    private static Point point(int index, Section section, double amps, double volts, OptionalInt waveform) {
        return new Point(
                index,
                section,
                "+12 V",
                new Setpoint("CC", amps, 115),
                index,
                true,
                Map.of(
                        Quantity.OUTPUT, new Measured(volts, 0.002, 0.004, 9, Unit.VOLT),
                        Quantity.LOAD_CURRENT, Measured.of(amps, 0.001, Unit.AMPERE),
                        Quantity.HEAT_SINK, Measured.of(30 + index, 0.5, Unit.CELSIUS)),
                waveform,
                "");
    }

    Judgement judgement(Verdict ripple) {
        Measured output = Measured.of(12.16911, 0.00455, Unit.VOLT);
        Measured regulation = Measured.of(0.002901, 0.000235, Unit.RATIO);
        Measured ripplePp = Measured.of(0.0402, 0.00155, Unit.VOLT);
        return new Judgement(
                "lab-counter-12",
                "ab12",
                DecisionRule.NON_BINARY,
                List.of(
                        check(
                                "Output voltage, worst of the load sweep",
                                output,
                                new Band(11.88, 12.36),
                                Verdict.PASS,
                                "no load"),
                        check(
                                "Load regulation, of nominal",
                                regulation,
                                Band.atMost(0.005),
                                Verdict.PASS,
                                "0 A to 2 A"),
                        check("Ripple, peak to peak", ripplePp, Band.atMost(0.06), ripple, "at 2 A"),
                        new Check(
                                "line-regulation",
                                "Line regulation",
                                "+12 V",
                                new Missing("this rig has no line source"),
                                0,
                                0,
                                Band.atMost(0.005),
                                Unit.RATIO,
                                Verdict.PASS,
                                "")));
    }

    private static Check check(String title, Measured value, Band limit, Verdict verdict, String detail) {
        return new Check(title, title, "+12 V", value, 2 * value.standardU(), 2, limit, value.unit(), verdict, detail);
    }
}

package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.judge.JudgeTest.find;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Unit;
import railproof.profile.BurnInPlan;
import railproof.profile.DecisionRule;
import railproof.profile.LimitShape;
import railproof.profile.Profile;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Setpoint;

/** A burn-in of two hours, row by row by hand, for the rail of the other checks: 11.8 to 12.4 V, ripple to 50 mV. */
class BurnInChecksTest {
    private static final Setpoint LOADED = new Setpoint("CC", 1.8, BenchRun.LINE_V);
    private static final double HOUR_S = 3600;

    private static Profile profile(BurnInPlan plan) {
        return BenchRun.profile(
                DecisionRule.SIMPLE_ACCEPTANCE, LimitShape.CONSTANT_CURRENT, BenchRun.limits(), 12, plan);
    }

    private static BurnInPlan plan() {
        BurnInPlan d = BurnInPlan.DEFAULT;
        return new BurnInPlan(
                Duration.ofHours(2),
                d.loadRatio(),
                1,
                d.coldOff(),
                d.sampleEvery(),
                d.readingEvery(),
                d.hotAfter(),
                d.cool(),
                0.01,
                2,
                Optional.of(70.0),
                d.warnRatio());
    }

    /** Two starts, three rows under load, two hot readings, one after cooling; the second start and row are the worst. */
    private static BenchRun burnIn() {
        BenchRun run = BenchRun.empty()
                .event(new RunEvent.BurnInPlanned(0, 2 * HOUR_S))
                .add(Section.NO_LOAD, Setpoint.noLoad(BenchRun.LINE_V), 12.169, 0, "")
                .add(Section.NO_LOAD, Setpoint.noLoad(BenchRun.LINE_V), 12.300, 0, "after a cold start")
                .add(Section.BURN_IN, LOADED, 12.14, 1.8, "")
                .add(Section.BURN_IN, LOADED, 11.90, 1.8, "")
                .add(Section.BURN_IN, LOADED, 12.14, 1.8, "")
                .add(Section.BURN_IN_HOT, LOADED, 12.130, 1.8, "")
                .add(Section.BURN_IN_HOT, LOADED, 12.100, 1.8, "")
                .add(Section.BURN_IN_COOLED, LOADED, 12.150, 1.8, "");
        loadedFor(run, Section.BURN_IN, 0.25, 0.5, 0.75);
        loadedFor(run, Section.BURN_IN_HOT, 1.0, 2.0);
        run.change(p -> p.index() == 6, Quantity.RIPPLE_PP, r -> ripple(0.030));
        run.change(p -> p.index() == 5, Quantity.RIPPLE_PP, r -> ripple(0.020));
        return run.change(
                p -> p.section() == Section.BURN_IN || p.section() == Section.BURN_IN_HOT,
                Quantity.HEAT_SINK,
                r -> Measured.of(50, 0.5, Unit.CELSIUS));
    }

    private static void loadedFor(BenchRun run, Section section, double... hours) {
        List<Integer> rows = run.data().points().stream()
                .filter(point -> point.section() == section)
                .map(Point::index)
                .toList();
        for (int i = 0; i < hours.length; i++) {
            int row = rows.get(i);
            double loadedS = hours[i] * HOUR_S;
            run.change(p -> p.index() == row, Quantity.LOADED_TIME, r -> Measured.of(loadedS, 0, Unit.SECOND));
        }
    }

    private static Measured ripple(double ppV) {
        return new Measured(ppV, 0.0003, 0.01 * ppV, 8, Unit.VOLT);
    }

    private static Check check(BenchRun run, String id) {
        return find(Judge.judge(run.data(), profile(plan()), ""), id);
    }

    private static Measured value(BenchRun run, String id) {
        return check(run, id).value().measured().orElseThrow();
    }

    @Test
    void everyCheckOfASoundUnitPasses() {
        Judgement judgement = Judge.judge(burnIn().data(), profile(plan()), "");

        assertEquals(
                List.of(
                        "no-load-voltage",
                        "burn-in-output",
                        "burn-in-ripple-pp",
                        "burn-in-drift",
                        "burn-in-ripple-growth",
                        "burn-in-heat-sink",
                        "burn-in-cooled",
                        "burn-in-hours",
                        "envelope"),
                judgement.checks().stream().map(Check::id).toList());
        for (Check check : judgement.checks()) {
            assertEquals(Verdict.PASS, check.verdict(), check.toString());
        }
    }

    @Test
    void aRunWithoutAPlannedBurnInIsAQualification() {
        assertTrue(Judge.judge(BenchRun.healthy().data(), profile(plan()), "").checks().stream()
                .noneMatch(check -> check.id().startsWith("burn-in")));
    }

    @Test
    void theWorstOfAllRowsCountsAndIsNamed() {
        assertEquals(12.300, value(burnIn(), "no-load-voltage").value(), 0);
        assertEquals(
                "worst of 2, at no load, line 230 V",
                check(burnIn(), "no-load-voltage").detail());
        assertEquals(11.90, value(burnIn(), "burn-in-output").value(), 0);
        assertEquals(
                "worst of 5, at CC 1.8 A, line 230 V, 0.50 h under load",
                check(burnIn(), "burn-in-output").detail());
        assertEquals(0.030, value(burnIn(), "burn-in-ripple-pp").value(), 0);
        assertEquals(12.150, value(burnIn(), "burn-in-cooled").value(), 0);
    }

    @Test
    void aRowThatWasNotReadIsNotCounted() {
        BenchRun run = burnIn().change(p -> p.index() == 3, Quantity.OUTPUT, r -> new Missing("hole in the record"))
                .change(p -> p.index() == 4, Quantity.LOADED_TIME, r -> new Missing("clock"));

        assertEquals(12.14, value(run, "burn-in-output").value(), 0);
        assertTrue(check(run, "burn-in-output").detail().startsWith("worst of 4, at"));
    }

    @Test
    void whatWasNeverReadIsNotJudgedAndSaysSo() {
        BenchRun cold = burnIn().change(p -> true, Quantity.HEAT_SINK, r -> new Missing("no sensor"));
        assertEquals(Verdict.NOT_JUDGED, check(cold, "burn-in-heat-sink").verdict());
        assertTrue(check(cold, "burn-in-heat-sink").detail().endsWith("was not measured"));

        BenchRun early =
                burnIn().without(p -> p.section() != Section.NO_LOAD).ended(RunOutcome.End.STOPPED, "stop key");
        for (String id : List.of("burn-in-output", "burn-in-ripple-pp", "burn-in-heat-sink", "burn-in-cooled")) {
            assertEquals(Verdict.NOT_JUDGED, check(early, id).verdict(), id);
            assertTrue(check(early, id).detail().contains("the run ended early"), id);
        }
        for (String id : List.of("burn-in-drift", "burn-in-ripple-growth")) {
            assertEquals(
                    "there are no two hot readings to compare: the run ended early",
                    check(early, id).detail());
        }
    }

    @Test
    void limitsThatTheProfileDoesNotSetMakeNoCheck() {
        Judgement judgement = Judge.judge(burnIn().data(), profile(BurnInPlan.DEFAULT), "");

        assertTrue(judgement.checks().stream().noneMatch(check -> check.id().equals("burn-in-heat-sink")));
    }

    /** 12.130 to 12.100 V: −0.030 / 12.130; of the two readings 0.5 mV each varies, the shared 3 mV go out of a ratio. */
    @Test
    void driftIsTheChangeBetweenTheHotReadingsWithWhatOneChannelSharesCancelled() {
        Measured drift = value(burnIn(), "burn-in-drift");

        assertEquals(-0.030 / 12.130, drift.value(), 1e-12);
        assertEquals(Math.hypot(0.0005, 0.0005 * 12.100 / 12.130) / 12.130, drift.randomU(), 1e-12);
        assertEquals(0.003 * 0.030 / 12.130 / 12.130, drift.sharedU(), 1e-12);
        assertTrue(check(burnIn(), "burn-in-drift").detail().startsWith("12.13 V at CC 1.8 A"));
        assertTrue(check(burnIn(), "burn-in-drift").detail().contains("12.1 V at CC 1.8 A"));
    }

    @Test
    void driftUpIsAsBadAsDriftDown() {
        for (double lastV : new double[] {11.99, 12.27}) {
            BenchRun run = burnIn().change(p -> p.index() == 6, Quantity.OUTPUT, r -> JudgeTest.volts(lastV));
            assertEquals(Verdict.FAIL, check(run, "burn-in-drift").verdict(), "to " + lastV);
        }
    }

    @Test
    void driftNeedsTwoHotReadingsOfAnOutputThatStands() {
        BenchRun once = burnIn().without(p -> p.index() == 6);
        BenchRun blind = burnIn().change(p -> p.index() == 6, Quantity.OUTPUT, r -> new Missing("probe off"));
        BenchRun blindAtFirst = burnIn().change(p -> p.index() == 5, Quantity.OUTPUT, r -> new Missing("probe off"));
        BenchRun dead = burnIn().change(p -> p.index() == 5, Quantity.OUTPUT, r -> JudgeTest.volts(0));

        for (BenchRun run : List.of(once, blind, blindAtFirst, dead)) {
            assertEquals(Verdict.NOT_JUDGED, check(run, "burn-in-drift").verdict());
            assertEquals(
                    "there are no two hot readings to compare",
                    check(run, "burn-in-drift").detail());
        }
    }

    /** 20 to 30 mV with 0.3 mV each: 1.5, and u = 0.3 √(1 + 1.5²) / 20; a gain error of 1 % goes out. */
    @Test
    void rippleGrowthIsTheLastOverTheFirst() {
        Check check = check(burnIn(), "burn-in-ripple-growth");
        Measured growth = check.value().measured().orElseThrow();

        assertEquals(1.5, growth.value(), 1e-12);
        assertEquals(0.3 / 20 * Math.sqrt(1 + 1.5 * 1.5), growth.randomU(), 1e-12);
        assertEquals(0, growth.sharedU(), 1e-12);
        assertEquals("20 mV at first, 30 mV at last", check.detail());
    }

    /** Of 1 mV at first a tenth of the limit of 50 mV counts: 3 mV are 0.6 of that and no trebling. */
    @Test
    void aRippleFarBelowItsLimitMayGrow() {
        BenchRun run = burnIn().change(p -> p.index() == 5, Quantity.RIPPLE_PP, r -> ripple(0.001))
                .change(p -> p.index() == 6, Quantity.RIPPLE_PP, r -> ripple(0.003));
        Check check = check(run, "burn-in-ripple-growth");
        Measured growth = check.value().measured().orElseThrow();

        assertEquals(0.6, growth.value(), 1e-12);
        // the base has no uncertainty, so nothing goes out against it
        assertEquals(0.0003 / 0.005, growth.randomU(), 1e-12);
        assertEquals(0.00003 / 0.005, growth.sharedU(), 1e-12);
        assertEquals(Verdict.PASS, check.verdict());
        assertEquals("1 mV at first, 3 mV at last; counted against a tenth of the limit", check.detail());
    }

    @Test
    void rippleThatDoublesAndMoreFails() {
        BenchRun run = burnIn().change(p -> p.index() == 6, Quantity.RIPPLE_PP, r -> ripple(0.041));

        assertEquals(Verdict.FAIL, check(run, "burn-in-ripple-growth").verdict());
        assertEquals(Verdict.PASS, check(run, "burn-in-ripple-pp").verdict());
    }

    @Test
    void rippleGrowthNeedsBothReadings() {
        for (int index : new int[] {5, 6}) {
            BenchRun run = burnIn().change(p -> p.index() == index, Quantity.RIPPLE_PP, r -> new Missing("no capture"));
            assertEquals(
                    "there are no two hot readings to compare",
                    check(run, "burn-in-ripple-growth").detail());
        }
    }

    /** A hot reading with the load off proves neither drift nor growth. */
    @Test
    void aHotReadingWithoutItsLoadProvesNothing() {
        for (int index : new int[] {5, 6}) {
            BenchRun run = burnIn().change(
                            p -> p.index() == index, Quantity.LOAD_CURRENT, r -> Measured.of(0.1, 0.001, Unit.AMPERE));
            for (String id : List.of("burn-in-drift", "burn-in-ripple-growth")) {
                assertEquals(Verdict.NOT_JUDGED, check(run, id).verdict(), id + " " + index);
                assertTrue(check(run, id).detail().contains("the load drew only 0.1 A"));
            }
        }
    }

    @Test
    void theHottestRowCounts() {
        BenchRun run =
                burnIn().change(p -> p.index() == 4, Quantity.HEAT_SINK, r -> Measured.of(71, 0.5, Unit.CELSIUS));
        Check check = check(run, "burn-in-heat-sink");

        assertEquals(71, check.value().measured().orElseThrow().value(), 0);
        assertEquals(Verdict.FAIL, check.verdict());
        assertTrue(check.detail().endsWith("0.75 h under load"), check.detail());
    }

    @Test
    void timeUnderLoadIsTheLargestOnRecordOfWhatWasAskedFor() {
        Check check = check(burnIn(), "burn-in-hours");

        assertEquals(1.0, check.value().measured().orElseThrow().value(), 1e-12);
        assertEquals("2.00 h of 2.00 h", check.detail());
        assertEquals(Envelope.WHOLE_UNIT, check.rail());
    }

    @Test
    void aBreakIsSaid() {
        RunEvent resumed = new RunEvent.Resumed(100, 50, 50, Instant.EPOCH);

        assertEquals(
                "2.00 h of 2.00 h, taken up again once after a break",
                check(burnIn().event(resumed), "burn-in-hours").detail());
        assertEquals(
                "2.00 h of 2.00 h, taken up again 2 times after a break",
                check(burnIn().event(resumed).event(resumed), "burn-in-hours").detail());
    }

    @Test
    void tooShortFailsACompletedRunAndLeavesACutOneOpen() {
        BenchRun shortened = burnIn().without(p -> p.index() == 6);
        assertEquals(Verdict.FAIL, check(shortened, "burn-in-hours").verdict());
        assertEquals(0.5, value(shortened, "burn-in-hours").value(), 1e-12);

        BenchRun cut = burnIn().without(p -> p.index() == 6).ended(RunOutcome.End.STOPPED, "stop key");
        assertEquals(Verdict.NOT_JUDGED, check(cut, "burn-in-hours").verdict());
        assertEquals("1.00 h of 2.00 h", check(cut, "burn-in-hours").detail());
    }
}

package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.judge.JudgeTest.check;
import static railproof.judge.JudgeTest.find;

import org.junit.jupiter.api.Test;
import railproof.profile.DecisionRule;
import railproof.profile.LimitShape;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Setpoint;

class LimitChecksTest {
    /** A rail without its limit transistor still gives 11.94 V at 3.5 A (circuit simulation); nothing ever collapses. */
    @Test
    void missingLimitIsFoundOutBeyondTheBand() {
        BenchRun run = BenchRun.healthy().without(p -> p.section() == Section.CURRENT_LIMIT);
        for (double a = 2.2; a < 3.55; a += 0.1) {
            run.add(Section.CURRENT_LIMIT, new Setpoint("CC", a, 230), 12.13 - 0.05 * (a - 2), a, "");
        }

        Check limit = check(run, "current-limit");
        assertEquals(Verdict.FAIL, limit.verdict(), limit.detail());
        assertTrue(limit.detail().contains("no limit up to 3.5 A"), limit.detail());
        assertEquals(BenchRun.limits().currentLimitA().orElseThrow(), limit.limit());
        assertEquals(Verdict.NOT_JUDGED, check(run, "short-circuit").verdict());
        assertEquals(Verdict.NOT_JUDGED, check(run, "limit-shape").verdict());
    }

    @Test
    void searchThatEndedInsideTheBandNeitherPassesNorFails() {
        BenchRun run = BenchRun.healthy()
                .without(p -> p.section() == Section.CURRENT_LIMIT)
                .add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.4, 230), 12.12, 2.4, "");

        Check limit = check(run, "current-limit");
        assertEquals(Verdict.NOT_JUDGED, limit.verdict());
        assertTrue(limit.detail().contains("no limit up to 2.4 A"), limit.detail());
    }

    /** Sense resistor doubled: the limit halves and the rail cannot even carry its load (circuit simulation). */
    @Test
    void limitBelowTheRatedCurrentIsFoundInTheLoadSweep() {
        BenchRun run = BenchRun.healthy()
                .without(p -> p.section() == Section.CURRENT_LIMIT)
                .change(p -> p.asked().level() == 2, Quantity.OUTPUT, r -> JudgeTest.volts(0.3))
                .add(Section.CURRENT_LIMIT, new Setpoint("CV", 0, 230), 0.1, 1.33, "traced");

        Check limit = check(run, "current-limit");
        assertEquals(1.5, limit.value().measured().orElseThrow().value(), 1e-12);
        // 1.5 A with U = 0.48 A does not reach the band's 2.2 A
        assertEquals(Verdict.FAIL, limit.verdict());
    }

    @Test
    void foldbackWhereConstantCurrentIsDueFails() {
        BenchRun run = BenchRun.healthy()
                .change(p -> p.asked().mode().equals("CV"), Quantity.LOAD_CURRENT, r -> JudgeTest.volts(1.1));

        assertEquals(Verdict.FAIL, check(run, "limit-shape").verdict());
        assertTrue(check(run, "limit-shape").detail().contains("foldback"));
    }

    @Test
    void outputThatStaysDownWithoutLoadIsALatchAndNoRecovery() {
        BenchRun run = BenchRun.healthy()
                .change(p -> p.section() == Section.RECOVERY, Quantity.OUTPUT, r -> JudgeTest.volts(0.213));

        assertEquals(Verdict.FAIL, check(run, "limit-shape").verdict());
        assertTrue(check(run, "limit-shape").detail().contains("latching"));
        assertEquals(Verdict.FAIL, check(run, "recovery").verdict());
    }

    @Test
    void latchingRailIsAskedToLatch() {
        BenchRun latched = BenchRun.healthy()
                .change(p -> p.section() == Section.RECOVERY, Quantity.OUTPUT, r -> JudgeTest.volts(0.213));
        Judgement right = Judge.judge(latched.data(), latchingProfile(), "");
        Judgement wrong = Judge.judge(BenchRun.healthy().data(), latchingProfile(), "");

        assertEquals(Verdict.PASS, find(right, "limit-shape").verdict());
        assertEquals(Verdict.NOT_JUDGED, find(right, "recovery").verdict());
        assertEquals(Verdict.FAIL, find(wrong, "limit-shape").verdict());
    }

    /** A base feed gone high: output sags to 9 V at 2.4 A while the load still gets 2.4 A. That is no current limit. */
    @Test
    void saggingIsNotTakenForALimit() {
        BenchRun run = BenchRun.healthy()
                .without(p -> p.section() == Section.CURRENT_LIMIT)
                .add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.2, 230), 11.7, 2.2, "")
                .add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.4, 230), 9.04, 2.4, "");

        Check limit = check(run, "current-limit");
        assertEquals(Verdict.NOT_JUDGED, limit.verdict(), limit.detail());
        assertTrue(limit.detail().contains("out of regulation"), limit.detail());
    }

    @Test
    void lowestPointThatIsNoShortIsNotJudgedAsOne() {
        BenchRun run = BenchRun.healthy()
                .without(p ->
                        p.section() == Section.CURRENT_LIMIT && p.asked().mode().equals("CV"))
                .without(p -> p.note().equals("collapsed"))
                .add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.6, 230), 5.0, 2.59, "collapsed");

        Check check = check(run, "short-circuit");
        assertEquals(Verdict.NOT_JUDGED, check.verdict());
        assertTrue(check.detail().contains("not a short"), check.detail());
    }

    /**
     * 2.645 A into a short over an onset of 2.5 ± 0.1 A: both from one load, so its gain goes out and its zero almost. What
     * varies: 1 mA, and 1.058 × √(1² + (100 / √3)²) mA; the step's rectangle of 1.058 × 0.1 A rules k.
     */
    @Test
    void theRatioOfShortToOnsetHasTheStepForItsUncertainty() {
        Check check = check(BenchRun.healthy(), "limit-shape");
        railproof.base.Measured ratio = check.value().measured().orElseThrow();
        double value = 2.645 / 2.5;
        double onsetU = Math.hypot(0.001, 0.1 / Math.sqrt(3));

        assertEquals(Math.hypot(0.001, value * onsetU) / 2.5, ratio.randomU(), 1e-9);
        assertEquals(Math.abs(0.002 - value * 0.002) / 2.5, ratio.sharedU(), 1e-9);
        assertEquals(1.654, check.coverageDimensionless(), 0.002);
        assertEquals("found constant current", check.detail());
    }

    /** Traced without constant current, onset and short are readings: no step, and k is the normal one. */
    @Test
    void withoutAStepTheFactorIsTheNormalOne() {
        BenchRun run = BenchRun.healthy()
                .without(p -> p.section() == Section.CURRENT_LIMIT || p.section() == Section.LOAD_SWEEP)
                .add(Section.LOAD_SWEEP, Setpoint.noLoad(230), 12.169, 0, "")
                .add(Section.CURRENT_LIMIT, new Setpoint("CV", 12, 230), 12.0, 2.5, "traced")
                .add(Section.CURRENT_LIMIT, new Setpoint("CV", 11, 230), 11.0, 2.5, "traced")
                .add(Section.CURRENT_LIMIT, new Setpoint("CV", 0, 230), 0.1, 2.5, "traced");

        assertEquals(2, check(run, "limit-shape").coverageDimensionless(), 0.1);
        assertEquals(
                1, check(run, "limit-shape").value().measured().orElseThrow().value(), 1e-9);
    }

    /** The output without load is read where there is one that stands: a dead first reading is no reference. */
    @Test
    void whatTheCurveIsHeldAgainstIsTheOutputThatStood() {
        BenchRun dead = BenchRun.healthy()
                .change(p -> p.section() == Section.NO_LOAD, Quantity.OUTPUT, r -> JudgeTest.volts(0.1));
        assertEquals(Verdict.PASS, check(dead, "limit-shape").verdict());
        assertEquals(
                2.5,
                check(dead, "current-limit").value().measured().orElseThrow().value(),
                1e-12);

        // 11.5 V is 5 % below 12.169 V but not below nominal: the reading is the reference, not the profile
        BenchRun soft = BenchRun.healthy()
                .without(p -> p.note().equals("collapsed"))
                .add(Section.CURRENT_LIMIT, new Setpoint("CC", 2.6, 230), 11.5, 2.45, "collapsed");
        assertEquals(
                2.5,
                check(soft, "current-limit").value().measured().orElseThrow().value(),
                1e-12);
    }

    /** A profile that expects no limit and sets none asks nothing, unless the way back was looked at. */
    @Test
    void aRailWithoutLimitsIsAskedForItsRecoveryOnlyIfThatWasMeasured() {
        railproof.profile.RailLimits none = new railproof.profile.RailLimits(
                BenchRun.limits().outputV(),
                java.util.Optional.empty(),
                java.util.Optional.empty(),
                java.util.Optional.empty(),
                java.util.Optional.empty(),
                java.util.Optional.empty(),
                java.util.Optional.empty(),
                railproof.profile.DynamicLimits.NONE);
        railproof.profile.Profile profile = BenchRun.profile(DecisionRule.NON_BINARY, LimitShape.NONE, none, 12);
        BenchRun without = BenchRun.healthy().without(p -> p.section() == Section.RECOVERY);

        assertEquals(
                Verdict.PASS,
                find(Judge.judge(BenchRun.healthy().data(), profile, ""), "recovery")
                        .verdict());
        assertTrue(Judge.judge(without.data(), profile, "").checks().stream()
                .noneMatch(check -> check.id().equals("recovery")));
    }

    @Test
    void aLatchThatWasNotLookedAtOrNeverReachedIsNotJudged() {
        BenchRun unseen = BenchRun.healthy().without(p -> p.section() == Section.RECOVERY);
        BenchRun unreached = BenchRun.healthy().without(p -> p.section() == Section.CURRENT_LIMIT);

        Check first = find(Judge.judge(unseen.data(), latchingProfile(), ""), "limit-shape");
        Check second = find(Judge.judge(unreached.data(), latchingProfile(), ""), "limit-shape");

        assertEquals(Verdict.NOT_JUDGED, first.verdict());
        assertTrue(first.detail().contains("was not measured"), first.detail());
        assertEquals(Verdict.NOT_JUDGED, second.verdict());
        assertEquals("the limit was not reached", second.detail());
    }

    /** At its floor in constant current a load lets a volt or so stand; that is said. */
    @Test
    void howTheShortWasMadeIsSaid() {
        BenchRun floor = BenchRun.healthy()
                .without(p ->
                        p.section() == Section.CURRENT_LIMIT && p.asked().mode().equals("CV"));

        assertEquals(
                "with 0.25 V left at the output (load at its floor in CC)",
                check(floor, "short-circuit").detail());
        assertEquals(
                "with 0.1 V left at the output",
                check(BenchRun.healthy(), "short-circuit").detail());
    }

    private static railproof.profile.Profile latchingProfile() {
        return BenchRun.profile(DecisionRule.NON_BINARY, LimitShape.LATCHING, BenchRun.limits(), 12);
    }
}

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

    private static railproof.profile.Profile latchingProfile() {
        return BenchRun.profile(DecisionRule.NON_BINARY, LimitShape.LATCHING, BenchRun.limits(), 12);
    }
}

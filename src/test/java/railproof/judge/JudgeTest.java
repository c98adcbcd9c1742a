package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.Convention;
import railproof.profile.DecisionRule;
import railproof.profile.DynamicLimits;
import railproof.profile.LimitShape;
import railproof.profile.Profile;
import railproof.profile.RailLimits;
import railproof.profile.RegulationLimit;
import railproof.run.Quantity;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Setpoint;

class JudgeTest {
    private static final List<String> ALL = List.of(
            "no-load-voltage",
            "output-voltage",
            "load-regulation",
            "line-regulation",
            "ripple-pp",
            "ripple-rms",
            "current-limit",
            "limit-shape",
            "short-circuit",
            "recovery",
            "envelope");

    @ParameterizedTest
    @EnumSource(DecisionRule.class)
    void healthyRailPassesEveryCheckUnderEveryRule(DecisionRule rule) {
        Judgement judgement = Judge.judge(BenchRun.healthy().data(), BenchRun.profile(rule), "abc");

        assertEquals(ALL, judgement.checks().stream().map(Check::id).toList());
        for (Check check : judgement.checks()) {
            assertEquals(Verdict.PASS, check.verdict(), check.toString());
        }
        assertEquals(Verdict.PASS, judgement.overall());
        assertEquals("abc", judgement.profileSha256());
        assertEquals(rule, judgement.rule());
    }

    @Test
    void valuesAreWhatTheHandComputes() {
        BenchRun run = BenchRun.healthy();

        // (12.169 - 12.134) / 12.134
        assertEquals(0.0028844569, value(run, "load-regulation"), 1e-9);
        assertEquals(0.092, value(run, "line-regulation"), 1e-9);
        // lowest line at full load is farthest from the middle of 11.8 to 12.4
        assertEquals(12.177, value(run, "output-voltage"), 1e-12);
        assertEquals(0.022, value(run, "ripple-pp"), 1e-12);
        // held at 2.4, gone at 2.6: 2.5 +- 0.1, rectangular
        Check limit = check(run, "current-limit");
        assertEquals(2.5, limit.value().measured().orElseThrow().value(), 1e-12);
        assertEquals(0.1 / Math.sqrt(3), limit.value().measured().orElseThrow().standardU(), 1e-4);
        // the step's rectangle rules (EA-4/02 M, S9): 0.9545 sqrt 3
        assertEquals(1.653, limit.coverageDimensionless(), 0.001);
        assertEquals(2.645, value(run, "short-circuit"), 0);
        assertTrue(
                check(run, "short-circuit").detail().contains("0.1 V left"),
                check(run, "short-circuit").detail());
        assertEquals(2.645 / 2.5, value(run, "limit-shape"), 1e-12);
    }

    /** Of one channel's two readings the shared 3 mV cancel; what is left is 0.5 mV twice, over 12.134 V. */
    @Test
    void sharedUncertaintyCancelsInRegulation() {
        Check check = check(BenchRun.healthy(), "load-regulation");
        Measured value = check.value().measured().orElseThrow();

        assertEquals(0.0005 * Math.sqrt(2) / 12.134, value.randomU(), 1e-7);
        assertEquals(0.003 * (1 / 12.134 - 12.169 / (12.134 * 12.134)), -value.sharedU(), 1e-12);
        // 20 degrees of freedom each, equal parts: 40 together; t(95.45 %, 40) = 2.06
        assertEquals(2.06, check.coverageDimensionless(), 0.01);
    }

    /** 5.00 V to 4.95 V: 50 mV, 1.0000 % of no load (published), 1.0101 % of full load, 1 % of nominal. */
    @ParameterizedTest
    @CsvSource({"OF_FULL_LOAD, 0.0101010101010", "OF_NO_LOAD, 0.01", "OF_NOMINAL, 0.01", "IN_VOLTS, 0.05"})
    void everyConventionIsWhatItsNameSays(Convention convention, double expected) {
        BenchRun run = BenchRun.empty();
        run.add(Section.LOAD_SWEEP, Setpoint.noLoad(230), 5.00, 0, "");
        run.add(Section.LOAD_SWEEP, new Setpoint("CC", 2, 230), 4.95, 2, "");
        RailLimits limits = new RailLimits(
                new Band(4.5, 5.5),
                Optional.of(new RegulationLimit(0.2, convention)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                DynamicLimits.NONE);
        Profile profile = BenchRun.profile(DecisionRule.SIMPLE_ACCEPTANCE, LimitShape.NONE, limits, 5);

        Check check = find(Judge.judge(run.data(), profile, ""), "load-regulation");

        assertEquals(expected, check.value().measured().orElseThrow().value(), 1e-12);
        assertEquals(convention == Convention.IN_VOLTS ? Unit.VOLT : Unit.RATIO, check.unit());
        assertEquals(Verdict.PASS, check.verdict());
    }

    @Test
    void negativeRailIsJudgedLikeItsMirrorImage() {
        RailLimits up = BenchRun.limits();
        RailLimits limits = new RailLimits(
                new Band(-12.4, -11.8),
                up.loadRegulation(),
                up.lineRegulation(),
                up.ripplePpMaxV(),
                up.rippleRmsMaxV(),
                up.currentLimitA(),
                up.shortCircuitA(),
                DynamicLimits.NONE);
        Profile down = BenchRun.profile(DecisionRule.NON_BINARY, LimitShape.CONSTANT_CURRENT, limits, -12);
        Judgement mirrored = Judge.judge(BenchRun.healthy().turnedRound().data(), down, "");
        Judgement straight = judge(BenchRun.healthy());

        for (int i = 0; i < ALL.size(); i++) {
            Measured a = straight.checks().get(i).value().measured().orElseThrow();
            Measured b = mirrored.checks().get(i).value().measured().orElseThrow();
            assertEquals(
                    straight.checks().get(i).verdict(), mirrored.checks().get(i).verdict(), ALL.get(i));
            assertEquals(Math.abs(a.value()), Math.abs(b.value()), 1e-12, ALL.get(i));
        }
    }

    @Test
    void emptyRunIsNotJudgedAndSaysWhy() {
        BenchRun run = BenchRun.empty().ended(RunOutcome.End.STOPPED, "stop key");

        Judgement judgement = judge(run);

        assertEquals(Verdict.NOT_JUDGED, judgement.overall());
        assertEquals(ALL, judgement.checks().stream().map(Check::id).toList());
        for (Check check : judgement.checks()) {
            assertEquals(Verdict.NOT_JUDGED, check.verdict(), check.id());
            assertTrue(check.value() instanceof Missing, check.id());
            assertTrue(check.detail().contains("ended early"), check.detail());
        }
    }

    @Test
    void shortenedRunKeepsWhatIsProvenAndPassesNothingElse() {
        BenchRun run = BenchRun.healthy()
                .without(p -> p.section() != Section.NO_LOAD && p.index() > 2)
                .ended(RunOutcome.End.TRIPPED, "over-current");

        assertEquals(Verdict.PASS, check(run, "no-load-voltage").verdict());
        for (String id : ALL.subList(1, ALL.size() - 1)) {
            assertEquals(Verdict.NOT_JUDGED, check(run, id).verdict(), id);
        }
        assertEquals(Verdict.FAIL, check(run, "envelope").verdict());
        assertTrue(check(run, "output-voltage").detail().contains("no point at 2 A"));
        assertTrue(check(run, "envelope").detail().contains("over-current"));
    }

    @Test
    void failStaysAFailThoughTheRunWasCutShort() {
        BenchRun run = BenchRun.healthy()
                .change(p -> p.index() == 2, Quantity.OUTPUT, r -> volts(9))
                .without(p -> p.index() > 2)
                .ended(RunOutcome.End.FAULTED, "link lost");

        assertEquals(Verdict.FAIL, check(run, "output-voltage").verdict());
    }

    @Test
    void missingReadingInTheSweepStopsAPass() {
        BenchRun run =
                BenchRun.healthy().change(p -> p.index() == 2, Quantity.RIPPLE_PP, r -> new Missing("aliased capture"));

        assertEquals(Verdict.NOT_JUDGED, check(run, "ripple-pp").verdict());
        assertTrue(check(run, "ripple-pp").detail().contains("aliased capture"));
        assertEquals(Verdict.PASS, check(run, "ripple-rms").verdict());
    }

    @Test
    void loadThatDrewNothingProvesNothing() {
        BenchRun run = BenchRun.healthy()
                .change(
                        p -> p.section() == Section.LOAD_SWEEP && p.asked().level() == 2,
                        Quantity.LOAD_CURRENT,
                        r -> Measured.of(0.01, 0.001, Unit.AMPERE));

        assertEquals(Verdict.NOT_JUDGED, check(run, "load-regulation").verdict());
        assertEquals(Verdict.NOT_JUDGED, check(run, "output-voltage").verdict());
        assertTrue(check(run, "load-regulation").detail().contains("drew only 10 mA"));
    }

    @Test
    void lineThatDidNotMoveProvesNothing() {
        BenchRun run =
                BenchRun.healthy().change(p -> p.section() == Section.LINE_SWEEP, Quantity.LINE, r -> volts(230));

        Check check = check(run, "line-regulation");
        assertEquals(Verdict.NOT_JUDGED, check.verdict());
        assertTrue(check.detail().contains("the line stood at 230 V"), check.detail());
    }

    @Test
    void worstPointMayLieOnTheLineSweep() {
        BenchRun run = BenchRun.healthy()
                .change(
                        p -> p.section() == Section.LINE_SWEEP && p.asked().lineV() == 207,
                        Quantity.RIPPLE_PP,
                        r -> Measured.of(0.439, 0.001, Unit.VOLT));

        Check check = check(run, "ripple-pp");
        assertEquals(Verdict.FAIL, check.verdict());
        assertTrue(check.detail().contains("CC 2 A, line 207 V"), check.detail());
    }

    @Test
    void collapsedOutputFailsRegulationInEveryConventionThatHasANumber() {
        BenchRun run = BenchRun.healthy()
                .change(
                        p -> p.section() == Section.LOAD_SWEEP && p.asked().level() == 2,
                        Quantity.OUTPUT,
                        r -> volts(0.2));

        assertEquals(Verdict.FAIL, check(run, "load-regulation").verdict());
        assertEquals(Verdict.FAIL, check(run, "output-voltage").verdict());
    }

    @Test
    void outputOfExactlyNothingHasNoPercentageOfItself() {
        BenchRun run = BenchRun.healthy()
                .change(
                        p -> p.section() == Section.LOAD_SWEEP && p.asked().level() == 2,
                        Quantity.OUTPUT,
                        r -> volts(0));

        assertEquals(Verdict.NOT_JUDGED, check(run, "load-regulation").verdict());
        assertFalse(check(run, "load-regulation").detail().isBlank());
    }

    static Measured volts(double value) {
        return Measured.of(value, 0.001, Unit.VOLT);
    }

    static Judgement judge(BenchRun run) {
        return Judge.judge(run.data(), BenchRun.profile(DecisionRule.NON_BINARY), "");
    }

    static Check check(BenchRun run, String id) {
        return find(judge(run), id);
    }

    static Check find(Judgement judgement, String id) {
        return judgement.checks().stream()
                .filter(check -> check.id().equals(id))
                .findFirst()
                .orElseThrow();
    }

    private static double value(BenchRun run, String id) {
        return check(run, id).value().measured().orElseThrow().value();
    }
}

package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.judge.JudgeTest.check;
import static railproof.judge.JudgeTest.find;

import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Missing;
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

class RegulationChecksTest {
    /** 12.085 V at low and 12.177 V at high line: 92 mV, over 12.134 (loaded), 12.169 (unloaded) or 12 V. */
    @ParameterizedTest
    @CsvSource({
        "IN_VOLTS, 1, 0.092",
        "OF_FULL_LOAD, 12.134, 0.0075820",
        "OF_NO_LOAD, 12.169, 0.0075602",
        "OF_NOMINAL, 12, 0.0076667"
    })
    void lineRegulationInEveryConvention(Convention convention, double base, double expected) {
        Check check = find(Judge.judge(BenchRun.healthy().data(), lineProfile(convention), ""), "line-regulation");

        assertEquals(expected, check.value().measured().orElseThrow().value(), 1e-7);
        assertEquals(0.092 / base, check.value().measured().orElseThrow().value(), 1e-12);
        assertEquals(Verdict.PASS, check.verdict());
    }

    @ParameterizedTest
    @CsvSource({"207, 207 V", "253, 253 V"})
    void lineRegulationNeedsBothEndsOfTheLine(double missingV, String named) {
        BenchRun run = BenchRun.healthy()
                .without(p -> p.section() == Section.LINE_SWEEP && p.asked().lineV() == missingV);

        assertEquals(Verdict.NOT_JUDGED, check(run, "line-regulation").verdict());
        assertTrue(check(run, "line-regulation").detail().contains(named));
    }

    @Test
    void percentageOfAnOutputThatWasNotReadIsNotFormed() {
        BenchRun run = BenchRun.healthy()
                .change(p -> p.asked().mode().equals("off"), Quantity.OUTPUT, r -> new Missing("probe off"));

        Judgement judgement = Judge.judge(run.data(), lineProfile(Convention.OF_NO_LOAD), "");

        assertEquals(Verdict.NOT_JUDGED, find(judgement, "line-regulation").verdict());
        assertEquals(Verdict.NOT_JUDGED, find(judgement, "load-regulation").verdict());
        assertTrue(find(judgement, "load-regulation").detail().contains("without load"));
        assertTrue(find(judgement, "no-load-voltage").detail().contains("probe off"));
    }

    @Test
    void lineThatWasNotMeasuredProvesNothing() {
        BenchRun run = BenchRun.healthy()
                .change(p -> p.section() == Section.LINE_SWEEP, Quantity.LINE, r -> new Missing("no line probe"));

        assertEquals(Verdict.NOT_JUDGED, check(run, "line-regulation").verdict());
        assertTrue(check(run, "line-regulation").detail().contains("was not measured"));
    }

    /** Doubts never hide a fail: the line did not quite move, and still the output went too far. */
    @Test
    void failIsAFailInSpiteOfDoubts() {
        BenchRun run = BenchRun.healthy()
                .change(p -> p.section() == Section.LINE_SWEEP, Quantity.LINE, r -> JudgeTest.volts(230))
                .change(p -> p.asked().lineV() == 207, Quantity.OUTPUT, r -> JudgeTest.volts(11.0));

        assertEquals(Verdict.FAIL, check(run, "line-regulation").verdict());
    }

    @Test
    void noLoadReadingOfTheFirstSectionServesWhereTheSweepHasNone() {
        BenchRun run = BenchRun.healthy()
                .without(p ->
                        p.section() == Section.LOAD_SWEEP && p.asked().mode().equals("off"));

        assertEquals(
                0.0028844569,
                check(run, "load-regulation").value().measured().orElseThrow().value(),
                1e-9);
    }

    @Test
    void stoppedSweepSaysWhyThereIsNoFullLoad() {
        BenchRun run =
                BenchRun.healthy().without(p -> p.asked().level() == 2).ended(RunOutcome.End.STOPPED, "stop key");

        assertEquals(Verdict.NOT_JUDGED, check(run, "load-regulation").verdict());
        assertTrue(check(run, "load-regulation").detail().contains("ended early"));
    }

    /** "No load" of a rail with a minimum load is that load (adjustable regulators rise below it). */
    @Test
    void noLoadMeansTheMinimumLoad() {
        BenchRun run = BenchRun.empty()
                .add(Section.NO_LOAD, Setpoint.noLoad(230), 12.9, 0, "")
                .add(Section.LOAD_SWEEP, new Setpoint("CC", 0.1, 230), 12.1, 0.1, "")
                .add(Section.LOAD_SWEEP, new Setpoint("CC", 2, 230), 12.05, 2, "");
        Profile whole = lineProfile(Convention.IN_VOLTS);
        var rail = whole.rails().get(0);
        var withMinimum = new railproof.profile.Rail(
                rail.name(), 12, 2, 0.1, 15, LimitShape.NONE, 3, rail.limits(), rail.parts());
        Profile profile = new Profile(
                "x",
                "x",
                java.util.List.of(withMinimum),
                whole.line(),
                whole.plan(),
                whole.rule(),
                java.util.List.of(),
                Map.of());

        Check check = find(Judge.judge(run.data(), profile, ""), "load-regulation");

        assertEquals(0.05 / 12.05, check.value().measured().orElseThrow().value(), 1e-12);
    }

    private static Profile lineProfile(Convention convention) {
        RailLimits limits = new RailLimits(
                new Band(11, 13),
                Optional.of(new RegulationLimit(0.005, Convention.OF_FULL_LOAD)),
                Optional.of(new RegulationLimit(0.2, convention)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                DynamicLimits.NONE);
        return BenchRun.profile(DecisionRule.GUARD_BAND, LimitShape.NONE, limits, 12);
    }
}

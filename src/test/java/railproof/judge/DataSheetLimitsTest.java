package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static railproof.judge.JudgeTest.find;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
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
import railproof.run.Section;
import railproof.run.Setpoint;

/**
 * Limits of published data sheets of fixed three-terminal regulators (7805, 7812: one maker's Rev 1.3.1 of 2005 and a
 * second maker's SLVS056B; 7815: MC7815C; 7824: L7824C Rev 12), in millivolts: band over line and load, line and load regulation.
 * Units made to sit exactly on a limit pass under simple acceptance, one millivolt beyond fail.
 */
class DataSheetLimitsTest {
    @ParameterizedTest(name = "{0}")
    @CsvSource({
        "7805, 5000, 250, 100, 100",
        "7812, 12000, 600, 240, 240",
        "7815, 15000, 750, 30, 55",
        "7824, 24000, 1200, 480, 480"
    })
    void limitsAreKeptToTheMillivolt(String part, int nominalMv, int bandMv, int lineMv, int loadMv) {
        Profile profile = profile(part, nominalMv, bandMv, lineMv, loadMv);
        int full = nominalMv - 20;

        Judgement on = judge(profile, full + loadMv, full, full, full + lineMv);
        assertEquals(Verdict.PASS, find(on, "load-regulation").verdict(), part);
        assertEquals(Verdict.PASS, find(on, "line-regulation").verdict(), part);
        assertEquals(Verdict.PASS, find(on, "output-voltage").verdict(), part);

        Judgement beyond = judge(profile, full + loadMv + 1, full, full, full + lineMv + 1);
        assertEquals(Verdict.FAIL, find(beyond, "load-regulation").verdict(), part);
        assertEquals(Verdict.FAIL, find(beyond, "line-regulation").verdict(), part);

        Judgement rising = judge(profile, full - loadMv - 1, full, full, full - lineMv - 1);
        assertEquals(Verdict.FAIL, find(rising, "load-regulation").verdict(), "an output that rises with load counts");
        assertEquals(Verdict.FAIL, find(rising, "line-regulation").verdict(), part);

        Judgement low = judge(profile, nominalMv - bandMv - 1, nominalMv - bandMv - 1, full, full);
        assertEquals(Verdict.FAIL, find(low, "output-voltage").verdict(), part);
        assertEquals(Verdict.FAIL, find(low, "no-load-voltage").verdict(), part);
        Judgement edge = judge(profile, nominalMv - bandMv, nominalMv - bandMv, nominalMv + bandMv, full);
        assertEquals(Verdict.PASS, find(edge, "output-voltage").verdict(), part);
    }

    private static Judgement judge(Profile profile, int noLoadMv, int fullMv, int lowLineMv, int highLineMv) {
        BenchRun run = BenchRun.empty()
                .add(Section.NO_LOAD, Setpoint.noLoad(230), noLoadMv / 1000.0, 0, "")
                .add(Section.LOAD_SWEEP, new Setpoint("CC", 0.005, 230), noLoadMv / 1000.0, 0.005, "")
                .add(Section.LOAD_SWEEP, new Setpoint("CC", 1.5, 230), fullMv / 1000.0, 1.5, "")
                .add(Section.LINE_SWEEP, new Setpoint("CC", 1.5, 207), lowLineMv / 1000.0, 1.5, "")
                .add(Section.LINE_SWEEP, new Setpoint("CC", 1.5, 253), highLineMv / 1000.0, 1.5, "");
        return Judge.judge(run.data(), profile, "");
    }

    private static Profile profile(String part, int nominalMv, int bandMv, int lineMv, int loadMv) {
        RailLimits limits = new RailLimits(
                new Band((nominalMv - bandMv) / 1000.0, (nominalMv + bandMv) / 1000.0),
                Optional.of(new RegulationLimit(loadMv / 1000.0, Convention.IN_VOLTS)),
                Optional.of(new RegulationLimit(lineMv / 1000.0, Convention.IN_VOLTS)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                DynamicLimits.NONE);
        Rail rail = new Rail(
                "+12 V", nominalMv / 1000.0, 1.5, 0.005, nominalMv, LimitShape.NONE, 2.5, limits, Optional.empty());
        Plan plan = new Plan(
                List.of(0.0, 1.0),
                10,
                0.001,
                Duration.ofSeconds(1),
                0.1,
                Duration.ofSeconds(1),
                Duration.ofSeconds(1),
                Program.DEFAULT,
                BurnInPlan.DEFAULT);
        return new Profile(
                "check-" + part,
                part,
                List.of(rail),
                new LineRating(230, 207, 253, 50),
                plan,
                DecisionRule.SIMPLE_ACCEPTANCE,
                List.of(),
                Map.of());
    }
}

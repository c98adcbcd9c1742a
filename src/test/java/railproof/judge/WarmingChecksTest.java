package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.judge.DynamicChecksTest.checks;
import static railproof.judge.DynamicChecksTest.only;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.DynamicLimits;
import railproof.profile.LimitShape;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.SweepNote;

/** What the load sweep shows on its way back, on points made by hand. */
class WarmingChecksTest {
    private static final String RAIL = "+12 V";

    private static DynamicLimits warming(double maxRatio) {
        DynamicLimits none = DynamicLimits.NONE;
        return new DynamicLimits(
                none.recoveryMaxS(),
                none.stepDeviationMaxV(),
                none.startUpMaxS(),
                none.startUpOvershootMaxV(),
                none.holdUpMinS(),
                none.dropoutLineMaxV(),
                none.overloadRecoveryMaxS(),
                none.crossRegulationMaxRatio(),
                Optional.of(maxRatio),
                Optional.of(maxRatio));
    }

    private static Point swept(int index, String mode, String note, double volts) {
        return new Point(
                index,
                Section.LOAD_SWEEP,
                RAIL,
                new Setpoint(mode, mode.equals("off") ? 0 : 2, 115),
                index,
                true,
                only(Quantity.OUTPUT, Measured.of(volts, 1e-5, Unit.VOLT)),
                OptionalInt.empty(),
                note);
    }

    @Test
    void warmingIsWhatTheOutputWithoutLoadChangedByOverTheSweep() {
        // by hand: 10 mV lower afterwards; half of that by the time of full load, half-way; so of 60 mV 55 are load
        List<Point> sweep =
                List.of(swept(0, "off", "", 12.0), swept(1, "CC", "", 11.94), swept(2, "off", SweepNote.RETURN, 11.99));

        Check check = checks(warming(5e-4), LimitShape.NONE, sweep).get(0);

        assertEquals(Verdict.FAIL, check.verdict());
        assertEquals(-0.01 / 12, check.value().measured().map(Measured::value).orElseThrow(), 1e-12);
        assertTrue(
                check.detail().startsWith("full load takes 55 mV off the output, and 5 mV beside it is warming"),
                check::detail);
        assertEquals(
                Verdict.PASS,
                checks(warming(1e-3), LimitShape.NONE, sweep).get(0).verdict());
    }

    @Test
    void hysteresisIsWhatStaysDifferentOnTheWayBackBeyondWarming() {
        // by hand: 2 mV of warming in 4 s; from 1 s to 3 s half of it; of the 4 mV seen at that load 3 mV stay
        List<Point> sweep = List.of(
                swept(0, "off", "", 12.0),
                swept(1, "CC", "", 11.97),
                swept(3, "CC", SweepNote.BACK, 11.966),
                swept(4, "off", SweepNote.RETURN, 11.998));

        Check check = checks(warming(1e-3), LimitShape.NONE, sweep).get(1);

        assertEquals("hysteresis", check.id());
        assertEquals(-0.003 / 12, check.value().measured().map(Measured::value).orElseThrow(), 1e-12);
        assertEquals(Verdict.PASS, check.verdict(), check::detail);
        assertEquals(
                Verdict.FAIL,
                checks(warming(2e-4), LimitShape.NONE, sweep).get(1).verdict());
    }

    @Test
    void aSweepThatDidNotComeBackSaysNothingOfWarming() {
        List<Point> sweep = List.of(swept(0, "off", "", 12.0), swept(1, "CC", "", 11.94));

        Check check = checks(warming(5e-4), LimitShape.NONE, sweep).get(0);

        assertEquals(Verdict.NOT_JUDGED, check.verdict());
        assertTrue(check.detail().contains("did not come back"), check::detail);
    }
}

package railproof.rig;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import railproof.instrument.BoardState;
import railproof.run.RunOutcome;
import railproof.run.RunOutcome.End;
import railproof.run.SafeState;

/** What the instruments say cannot be true together: the run ends, off, and the cause says where to look. */
class ImplausibleBenchTest {
    private final FakeRig fake = new FakeRig();

    private void endsOff(RunOutcome outcome, End end, String causePart) {
        assertEquals(end, outcome.end(), outcome.cause());
        assertTrue(outcome.cause().contains(causePart), outcome.cause());
        assertFalse(fake.load.on, "load input");
        assertEquals(0, fake.board.relays, "relays");
    }

    @Test
    void twoAmperesAskedForAndNoneSeenIsALeadOrAFuse() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            bench.look(FakeRig.RAIL, 0.1);
            fake.load.drawsRatio = 0;
            fake.load.terminalV = 0;
            bench.loadCurrent(FakeRig.RAIL);
        });

        endsOff(
                outcome,
                End.FAULTED,
                "asked for 2.00 A on +5V, load \"load\" sees 0.00 A at 0.00 V while the board sees 5.000 V");
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
    }

    @Test
    void aRailInItsCurrentLimitIsNoMissingCurrent() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            // folded back: a tenth of the voltage, a tenth of the current
            fake.board.outputV = 0.6;
            fake.load.terminalV = 0.6;
            fake.load.drawsRatio = 0.1;
            bench.look(FakeRig.RAIL, 0.1);
            bench.loadCurrent(FakeRig.RAIL);
        });

        assertEquals(End.COMPLETED, outcome.end(), outcome.cause());
    }

    @Test
    void aBoardThatSeesAnotherVoltageThanTheLoadIsNotBelieved() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.outputV = 4.0;
            bench.look(FakeRig.RAIL, 0.1);
            bench.loadCurrent(FakeRig.RAIL);
        });

        endsOff(outcome, End.FAULTED, "on +5V the board sees 4.000 V and load \"load\" 5.000 V");
    }

    @Test
    void theDropAlongTheLoadLeadsIsNoDisagreement() {
        // 2 A through 10 mΩ of leads, and the 2 % and 0.1 V that two instruments may differ by
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.load.terminalV = 5 - 0.02 - 0.19;
            bench.look(FakeRig.RAIL, 0.1);
            bench.loadCurrent(FakeRig.RAIL);
        });

        assertEquals(End.COMPLETED, outcome.end(), outcome.cause());
    }

    @Test
    void aLoadThatDrawsWithItsInputOffIsFoundWhileTheBenchWaits() {
        RunOutcome outcome = fake.run(bench -> {
            bench.envelope(FakeRig.RAIL, new Envelope(5, 6, 10));
            bench.lineOn(115, 60);
            fake.load.leaksA = 0.5;
            bench.pause(Duration.ofSeconds(3));
        });

        endsOff(outcome, End.FAULTED, "load \"load\" draws 0.500 A with its input commanded off");
        assertEquals(SafeState.UNKNOWN, outcome.safeState(), "it goes on drawing");
    }

    @Test
    void mainsAtTheInletBeforeAnythingIsOnEndsTheRunUnconfirmed() {
        fake.board.alwaysFed = true;

        RunOutcome outcome = fake.run(FakeRig::energise);

        endsOff(outcome, End.FAULTED, "115 V at the unit's inlet with the line commanded off");
        assertEquals(SafeState.UNKNOWN, outcome.safeState());
        assertTrue(String.join("\n", outcome.later()).contains("115 V at the unit's inlet"), () -> outcome.later()
                .toString());
    }

    @Test
    void aRelayThatWeldsDuringTheRunIsNotCalledOff() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.alwaysFed = true;
        });

        assertEquals(SafeState.UNKNOWN, outcome.safeState());
    }

    @Test
    void anOutputThatKeepsItsVoltageWithEverythingOffIsFedFromElsewhere() {
        fake.board.feedsBackV = 4.9;

        RunOutcome outcome = fake.run(FakeRig::energise);

        endsOff(outcome, End.FAULTED, "+5V has 4.900 V with line and loads off, and it stays");
        assertEquals(SafeState.CONFIRMED, outcome.safeState(), "what the rig can switch is off");
    }

    @Test
    void anOutputThatIsLeftChargedIsWaitedForWhileItFalls() {
        fake.board.feedsBackV = 4;
        fake.board.onRead = () -> fake.board.feedsBackV *= 0.8;

        RunOutcome outcome = fake.run(FakeRig::energise);

        assertEquals(End.COMPLETED, outcome.end(), outcome.cause());
        // 4 V · 0.8ⁿ is below a quarter of 5 V at n = 6; a second between two looks
        assertTrue(fake.clock.nowNs() > 3_000_000_000L);
    }

    /** The input breaks in the middle of a mean: the mean alone would be taken for the unit's voltage. */
    @Test
    void anInputThatGoesToItsEndWithinAMeanIsSaidToBeThere() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.outputV = 9;
            fake.board.outputPeakV = 32.767 - 9;
            bench.look(FakeRig.RAIL, 0.1);
        });

        endsOff(outcome, End.TRIPPED, "over-voltage on +5V: 9.000 V");
        assertTrue(outcome.cause().contains("(the end of input"), outcome.cause());
    }

    @Test
    void aLongWaitIsNoBlindOne() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.outputV = 9;
            bench.pause(Duration.ofHours(1));
        });

        endsOff(outcome, End.TRIPPED, "over-voltage on +5V: 9.000 V");
        assertTrue(fake.clock.nowNs() < 10_000_000_000L, "found after " + fake.clock.nowNs() + " ns");
    }

    @Test
    void aLineThatGoesAwayByItselfIsNotHeldAgainstTheUnit() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.lineV = 0;
            fake.board.outputV = 0;
            bench.pause(Duration.ofSeconds(3));
        });

        endsOff(outcome, End.FAULTED, "asked for a line of 115 V, the board sees 0.0 V at the unit's inlet");
    }

    @Test
    void aBoardWhoseClockStandsStillSaysNothingNew() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.frozenTicks = fake.clock.nowNs() / 1000;
            bench.pause(Duration.ofSeconds(2));
        });

        endsOff(outcome, End.FAULTED, "stale");
    }

    @Test
    void aPressedEmergencyStopIsNamedAndNothingIsArmedWhileItIs() {
        fake.board.inputs = 0;

        RunOutcome outcome = fake.run(FakeRig::energise);

        endsOff(outcome, End.STOPPED, "interlock open: \"cover\" (input 0)");
        assertFalse(fake.board.heard.contains("arm 500"), "the board is never armed");
        assertEquals("emergency stop pressed: \"red button\" (input 2)", new Interlock("red button", 2, true).words());
    }

    @Test
    void aRefusalThatOnlyShowsATripIsNotTheCauseButTheTripIs() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.state = BoardState.TRIPPED;
            fake.board.faults.add("HOST_SILENT");
            fake.load.refuses = true;
            bench.load(FakeRig.RAIL, railproof.instrument.LoadMode.CURRENT, 1);
        });

        endsOff(outcome, End.FAULTED, "the board tripped: HOST_SILENT");
        assertEquals(
                1, outcome.later().stream().filter(l -> l.contains("refused")).count(), () -> outcome.later()
                        .toString());
    }

    @Test
    void nothingIsSwitchedOnBeforeLoadAndBoardHaveTheirLimits() {
        fake.run(FakeRig::energise);

        List<String> board = fake.board.heard;
        assertTrue(fake.load.heard.indexOf("protect") < fake.load.heard.indexOf("input true"));
        int limit = board.indexOf("limit 0 -250..6000");
        assertTrue(limit >= 0, board::toString);
        assertTrue(limit < board.indexOf("relays 1 1") && limit < board.indexOf("load-enable true"), board::toString);
        RunOutcome early = new FakeRig().run(bench -> bench.loadInput(FakeRig.RAIL, true));
        assertTrue(early.cause().contains("before its envelope"), early::cause);
    }
}

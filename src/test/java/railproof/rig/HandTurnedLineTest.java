package railproof.rig;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** A line turned by hand: the rig says what to turn, watches the measured line, and believes only that. */
class HandTurnedLineTest {
    private final FakeRig fake = new FakeRig(true, true);

    /** Somebody who turns the variac two volts nearer at every prompt, or does nothing. */
    private final class Hand implements Operator {
        final List<String> heard = new ArrayList<>();
        private final double targetV;

        Hand(double targetV) {
            this.targetV = targetV;
        }

        @Override
        public void ask(String text) {
            heard.add(text);
            double missingV = targetV - fake.board.lineV;
            fake.board.lineV += Math.max(-2, Math.min(2, missingV));
        }

        @Override
        public Optional<String> answer() {
            return Optional.empty();
        }

        @Override
        public void withdraw() {
            heard.add("");
        }
    }

    private RunOutcome run(Operator hand, double wantedV) {
        fake.control.connect();
        return fake.control.run(
                bench -> {
                    bench.envelope(FakeRig.RAIL, new Envelope(5, 6, 10));
                    bench.lineOn(wantedV, 60);
                },
                hand,
                fake::keep);
    }

    @Test
    void goesOnByItselfWhenTheMeasuredLineIsThereAndSteady() {
        // the fake's line input reads up to 32 V
        fake.board.lineV = 20;
        Hand hand = new Hand(28);

        RunOutcome outcome = run(hand, 28);

        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome.cause());
        assertTrue(hand.heard.get(0).contains("turn the variac up to 28.0 V (now 20.0 V)"), hand.heard.get(0));
        assertEquals("", hand.heard.get(hand.heard.size() - 1), "the question is taken away");
        assertEquals(28, fake.board.lineV, 0.28, "within the band of 1 %");
    }

    @Test
    void saysWhichWayToTurnAndWhenALittleDoes() {
        fake.board.lineV = 31;
        // he stops half a volt short of the band, and is told
        Hand hand = new Hand(24.7);

        run(hand, 24);

        assertTrue(hand.heard.get(0).contains("turn the variac down to 24.0 V"), hand.heard.get(0));
        assertTrue(
                hand.heard.stream().anyMatch(text -> text.contains("a little lower, to 24.0 V")), hand.heard::toString);
    }

    @Test
    void nobodyTurningItEndsTheRunSafely() {
        fake.board.lineV = 20;

        RunOutcome outcome = run(Operator.nobody(), 28);

        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertTrue(outcome.cause().contains("nobody brought the line to 28 V within 60 s"), outcome.cause());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        assertEquals(0, fake.board.relays);
        assertFalse(fake.load.on);
    }

    @Test
    void nobodySwitchingTheMainsOffEndsTheRunAndIsNotTakenForOff() {
        FakeRig noRelay = FakeRig.withoutLineRelay();
        noRelay.board.lineV = 32;
        noRelay.board.alwaysFed = true;

        RunOutcome outcome = noRelay.run(bench -> {
            bench.envelope(FakeRig.RAIL, new Envelope(5, 6, 10));
            bench.lineOn(32, 60);
            bench.lineOff();
        });

        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertTrue(outcome.cause().contains("nobody switched the mains off"), outcome.cause());
        assertNotEquals(SafeState.CONFIRMED, outcome.safeState());
        assertFalse(noRelay.load.on);
    }
}

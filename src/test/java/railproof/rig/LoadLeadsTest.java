package railproof.rig;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import railproof.instrument.LoadMode;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** One load for two rails, moved by hand: no current flows before its leads are seen to be where they should be. */
class LoadLeadsTest {
    private final FakeRig rig = FakeRig.sharing("+5 V", "+12 V");
    private final List<String> prompts = new ArrayList<>();

    /** Somebody who does what {@code deed} says and answers every question. */
    private Operator person(String answer, Consumer<String> deed) {
        return new Operator() {
            @Override
            public void ask(String text) {
                prompts.add(text);
                deed.accept(text);
            }

            @Override
            public Optional<String> answer() {
                return Optional.of(answer);
            }

            @Override
            public void withdraw() {
                // nothing is shown
            }
        };
    }

    private void moveTo(String prompt) {
        if (prompt.contains("Move both its leads")) {
            rig.load.terminalV = prompt.contains("terminals of +12 V") ? 12.05 : 5.02;
        }
    }

    private void bothRails(Bench bench) throws RunEndException {
        rig.board.furtherV.put(2, 12.0);
        bench.envelope("+5 V", new Envelope(5, 6, 10));
        bench.envelope("+12 V", new Envelope(12, 14, 10));
        bench.lineOn(115, 60);
        for (String rail : List.of("+5 V", "+12 V", "+12 V")) {
            bench.load(rail, LoadMode.CURRENT, 2);
            bench.loadInput(rail, true);
            assertEquals("CC", bench.asked(rail).mode());
            bench.loadInput(rail, false);
        }
    }

    @Test
    void theLoadIsMovedOnceForEachRailAndTheOtherRailIsUnloadedThen() {
        RunOutcome outcome = rig.run(this::bothRails, person("", this::moveTo));

        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        assertEquals(2, prompts.size(), prompts::toString);
        assertTrue(prompts.get(1).contains("its input is off. Move both its leads to the terminals of +12 V"));
    }

    /** The second rail loaded while the leads are wherever they are. */
    private RunOutcome loadTheSecond(double secondV, Operator operator) {
        rig.load.terminalV = 5;
        return rig.run(
                bench -> {
                    rig.board.furtherV.put(2, secondV);
                    bench.envelope("+5 V", new Envelope(5, 6, 10));
                    bench.envelope("+12 V", new Envelope(secondV, 14, 10));
                    bench.lineOn(115, 60);
                    bench.load("+12 V", LoadMode.CURRENT, 2);
                    bench.loadInput("+12 V", true);
                },
                operator);
    }

    @Test
    void leadsOnTheWrongRailAreSeenBeforeAnyCurrent() {
        RunOutcome outcome = loadTheSecond(12, person("", text -> {}));

        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertTrue(outcome.cause().contains("was not brought to +12 V"), outcome::cause);
        assertTrue(prompts.get(1).contains("The load sees 5.00 V, +12 V has 12.00 V: the leads seem to be on +5 V"));
        assertFalse(rig.load.heard.contains("input true"), rig.load.heard::toString);
    }

    @Test
    void railsOfOneVoltageNeedTheOperatorsWord() {
        RunOutcome outcome = loadTheSecond(5.02, person("no", text -> {}));

        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertTrue(prompts.get(1).contains("does not tell +12 V from +5 V"), prompts::toString);
        assertFalse(rig.load.heard.contains("input true"));
    }

    @Test
    void aWordThatNobodyGivesEndsTheRunSafe() {
        RunOutcome outcome = loadTheSecond(5.02, new Operator() {
            private String asked = "";

            @Override
            public void ask(String text) {
                asked = text;
            }

            @Override
            public Optional<String> answer() {
                return asked.contains("yes or no") ? Optional.empty() : Optional.of("");
            }

            @Override
            public void withdraw() {
                // nothing is shown
            }
        });

        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        assertTrue(outcome.cause().contains("nobody answered within 60 s"), outcome::cause);
        assertFalse(rig.load.heard.contains("input true"));
    }

    @Test
    void nobodyAnsweringEndsTheRunSafe() {
        RunOutcome outcome = rig.run(this::bothRails);

        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        assertTrue(outcome.cause().contains("nobody answered within 60 s"), outcome::cause);
        assertFalse(rig.load.heard.contains("input true"));
    }
}

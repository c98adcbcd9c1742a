package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.rig.Operator;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.sim.BenchPlan;
import railproof.sim.SimulatedBench;

/**
 * One load for the three rails of a counter's supply, through the whole stack: brought to each by relays of the board or
 * by somebody's hand, and never loaded before it is seen to be where it should be.
 */
class SharedLoadTest {
    private static final String BENCH = "simulated-one-load-bench";
    private static final String[] WITHOUT_RELAYS = {
        "load_relay = 1\n", "", "load_relay = 2\n", "", "load_relay = 3\n", ""
    };
    private static final List<String> RAILS = List.of("+5 V", "+12 V", "-12 V");

    private static final List<PlainUnit.Rail> COUNTER =
            List.of(new PlainUnit.Rail(5.05, 5), new PlainUnit.Rail(12.1, 1.2), new PlainUnit.Rail(-12.1, 0.6));

    @TempDir
    private Path data = Path.of("");

    private final List<String> prompts = new ArrayList<>();
    private double[] mostA = {};

    private SimulatedRun.Done run(
            String[] rig, UnaryOperator<BenchPlan> wiring, Function<SimulatedBench, Operator> somebody)
            throws Exception {
        List<WatchedPlant> watched = new ArrayList<>();
        SimulatedRun.Done done = SimulatedRun.to(
                        "counter-3rail",
                        "load-sweep",
                        "load_fractions = [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1]",
                        "load_fractions = [0, 1]")
                .on(BENCH, rig)
                .wired(wiring)
                .plant(unit -> {
                    watched.add(new WatchedPlant(new PlainUnit(COUNTER), 0));
                    return watched.get(0);
                })
                .operator(somebody)
                .run(data);
        mostA = watched.get(0).mostA;
        return done;
    }

    /** The bench's load with other ways than the file says. */
    private static UnaryOperator<BenchPlan> ways(List<BenchPlan.Way> ways) {
        return plan -> {
            Map<String, BenchPlan.LoadPlan> loads = new HashMap<>(plan.loads());
            loads.computeIfPresent("load", (name, load) -> load.on(ways));
            return new BenchPlan(
                    plan.taps(),
                    plan.adc(),
                    loads,
                    plan.lineRelayMask(),
                    plan.programmableLine(),
                    plan.seed(),
                    plan.flaws());
        };
    }

    private void nothingFlowed(SimulatedRun.Done done) {
        assertEquals(SafeState.CONFIRMED, done.result().run().outcome().safeState());
        // the load's meter and its input capacitor take less than a milliampere
        assertTrue(Arrays.stream(mostA).allMatch(amperes -> amperes < 1e-3), () -> Arrays.toString(mostA));
        assertFalse(done.bench().sight().railsWereTied());
    }

    @Test
    void relaysBringTheLoadToEveryRailAndNeverTieTwoTogether() throws Exception {
        SimulatedRun.Done done = run(new String[0], UnaryOperator.identity(), bench -> Operator.nobody());

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        assertEquals(9, done.points(Section.LOAD_SWEEP).size());
        assertEquals(4, mostA[0], 0.05);
        assertEquals(1, mostA[1], 0.02);
        assertEquals(0.5, mostA[2], 0.02);
        assertFalse(done.bench().sight().railsWereTied());
        assertTrue(done.notes().contains("-12 V has the same voltage"), done::notes);
    }

    @Test
    void relaysWiredToTheWrongRailsAreRefusedBeforeAnyCurrent() throws Exception {
        SimulatedRun.Done done = run(
                new String[0],
                ways(List.of(new BenchPlan.Way(1, 1 << 1), new BenchPlan.Way(0, 1 << 2), new BenchPlan.Way(2, 1 << 3))),
                bench -> Operator.nobody());

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.FAULTED, outcome.end());
        assertTrue(outcome.cause().contains("+5 V has 5.05 V: the leads seem to be on +12 V"), outcome::cause);
        assertEquals(ExitStatus.RIG_TROUBLE, done.result().status());
        nothingFlowed(done);
    }

    @Test
    void aWeldedRelayIsSeenBeforeAnotherCloses() throws Exception {
        SimulatedRun.Done done = run(
                new String[0],
                ways(List.of(new BenchPlan.Way(2, 0), new BenchPlan.Way(0, 1 << 1), new BenchPlan.Way(1, 1 << 2))),
                bench -> Operator.nobody());

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.FAULTED, outcome.end());
        assertTrue(outcome.cause().contains("with all its relays open"), outcome::cause);
        nothingFlowed(done);
    }

    /** Somebody who does what the prompts say, or something near it. */
    private Operator person(SimulatedBench bench, UnaryOperator<String> understands) {
        return new Operator() {
            private String question = "";

            @Override
            public void ask(String text) {
                prompts.add(text);
                question = text;
                RAILS.stream()
                        .filter(rail -> text.contains("to the terminals of " + rail + ","))
                        .forEach(rail -> bench.moveLoad("load", RAILS.indexOf(understands.apply(rail))));
            }

            @Override
            public Optional<String> answer() {
                String answer = question.contains("yes or no") ? "yes" : "";
                question = "";
                return Optional.of(answer);
            }

            @Override
            public void withdraw() {
                question = "";
            }
        };
    }

    @Test
    void somebodyMovesTheLoadFromRailToRail() throws Exception {
        SimulatedRun.Done done =
                run(WITHOUT_RELAYS, UnaryOperator.identity(), bench -> person(bench, UnaryOperator.identity()));

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        // two rails of one voltage: there the eyes are asked too
        assertEquals(5, prompts.size(), prompts::toString);
        assertTrue(prompts.get(2).contains("The voltage does not tell +12 V from -12 V"), prompts.get(2));
        assertEquals(0.5, mostA[2], 0.02);
        assertTrue(done.notes().contains("by the operator's word"), done::notes);
    }

    @Test
    void leadsMovedToTheWrongRailAreRefusedBeforeAnyCurrent() throws Exception {
        SimulatedRun.Done done = run(WITHOUT_RELAYS, UnaryOperator.identity(), bench -> person(bench, rail -> "+12 V"));

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertTrue(outcome.cause().contains("The load was not brought to +5 V."), outcome::cause);
        assertEquals(3, prompts.size(), prompts::toString);
        nothingFlowed(done);
    }
}

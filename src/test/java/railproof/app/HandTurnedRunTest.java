package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.app.SimulatedRun.value;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.rig.Operator;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.sim.SimulatedBench;

/**
 * A bench whose line is turned by hand, through the whole stack: somebody who turns the variac as told, overshoots and
 * is corrected.
 */
class HandTurnedRunTest {
    private static final String[] BY_HAND = {
        "line-source = { kind = \"memory\" }",
        "",
        "kind = \"programmable\"",
        "kind = \"operator\"\nband_pct = 1\nfrequency_Hz = 60",
        "link = \"line-source\"\ndialect = \"standard\"\nchannel",
        "channel",
        "min_frequency_Hz = 45\nmax_frequency_Hz = 66\n",
        ""
    };
    private static final Pattern TARGET = Pattern.compile(" to ([0-9.]+) V");

    @TempDir
    private Path data = Path.of("");

    private final List<String> prompts = new ArrayList<>();

    private SimulatedRun.Done run() throws Exception {
        return SimulatedRun.to(
                        "bench-12v",
                        "load-sweep, line-sweep",
                        "load_fractions = [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1]",
                        "load_fractions = [0, 1]")
                .on("simulated-bench", BY_HAND)
                .plant(unit -> new PlainUnit(List.of(new PlainUnit.Rail(12.05, 2.5))))
                .operator(Hand::new)
                .run(data);
    }

    /** Goes past the mark by 4 % at first, and does exactly what is asked when only a little is. */
    private final class Hand implements Operator {
        private final SimulatedBench bench;

        Hand(SimulatedBench bench) {
            this.bench = bench;
        }

        @Override
        public void ask(String text) {
            prompts.add(text);
            Matcher target = TARGET.matcher(text);
            if (target.find()) {
                double volts = Double.parseDouble(target.group(1));
                double past = text.contains(" up to ") ? 1.04 : text.contains(" down to ") ? 0.96 : 1.002;
                bench.turnLineTo(past * volts);
            }
        }

        @Override
        public Optional<String> answer() {
            return Optional.empty();
        }

        @Override
        public void withdraw() {
            prompts.add("");
        }
    }

    @Test
    void pointsAreTakenByThemselvesOnceTheLineIsSteadyWhereItWasAskedToBe() throws Exception {
        SimulatedRun.Done done = run();

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        List<Point> sweep = done.points(Section.LINE_SWEEP);
        assertEquals(3, sweep.size());
        for (Point point : sweep) {
            // the band of 1 %, and the channel's 0.1 %
            assertEquals(
                    point.asked().lineV(),
                    value(point, Quantity.LINE),
                    0.011 * point.asked().lineV());
        }
        for (String words : List.of("turn the variac up to 115.0 V", "a little lower, to 115.0 V", "down to 103.5 V")) {
            assertTrue(prompts.stream().anyMatch(text -> text.contains(words)), () -> words + " in " + prompts);
        }
        assertTrue(prompts.stream().anyMatch(text -> text.contains("a little higher, to 103.5 V")), prompts::toString);
        assertEquals("", prompts.get(prompts.size() - 1), "the last question is taken away");
        // 20 lines for four settings and four corrections, not one for every look
        assertTrue(prompts.size() < 25, prompts::toString);
    }
}

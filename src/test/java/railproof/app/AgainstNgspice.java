package railproof.app;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.stream.Stream;
import railproof.base.Measured;
import railproof.judge.Check;
import railproof.run.RunOutcome;
import railproof.sim.supply.Bench;
import railproof.sim.supply.UnitDesign;

/** What comparisons of the procedures with ngspice have in common. */
final class AgainstNgspice {
    private static final System.Logger LOG = System.getLogger(AgainstNgspice.class.getName());

    private AgainstNgspice() {}

    static void agree(String what, double expected, double found, double ratio) {
        LOG.log(
                INFO,
                String.format(
                        Locale.ROOT,
                        "%s: ngspice %.6g, found %.6g, %+.2f %%",
                        what,
                        expected,
                        found,
                        100 * (found / expected - 1)));
        assertEquals(expected, found, ratio * Math.abs(expected), what);
    }

    /** The procedures on a unit of that design; these heat sinks do not warm up, and the sweep is not looked at. */
    static SimulatedRun.Done run(Path data, UnitDesign design, String profile, String procedures, String... fromTo)
            throws Exception {
        String[] quick = {
            "limit_cool_down_s = 3", "limit_cool_down_s = 0.5",
            "load_fractions = [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1]", "load_fractions = [0, 1]"
        };
        String[] changes =
                Stream.concat(Arrays.stream(quick), Arrays.stream(fromTo)).toArray(String[]::new);
        SimulatedRun.Done done = SimulatedRun.to(profile, procedures, changes)
                .plant(shipped -> design.build(Bench.AT_27_C))
                .run(data);
        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        return done;
    }

    static double judged(SimulatedRun.Done done, String check) {
        Check found = done.result().judgement().orElseThrow().checks().stream()
                .filter(one -> one.id().equals(check))
                .findFirst()
                .orElseThrow();
        return found.value().measured().map(Measured::value).orElseThrow(() -> new AssertionError(found.toString()));
    }
}

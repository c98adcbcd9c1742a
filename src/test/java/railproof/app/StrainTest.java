package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.run.RunOutcome;
import railproof.run.Section;

/** What the search for a current limit asks of the pass stage: every excursion ends within the dwell, then it cools. */
class StrainTest {
    @TempDir
    private Path data = Path.of("");

    @ParameterizedTest
    @CsvSource({"bench-12v, 2, 11.4, 300, 3", "bench-12v, 2, 11.4, 100, 1", "counter-5v, 8, 4.75, 300, 3"})
    void anExcursionIntoTheLimitEndsWithinTheDwellAndACoolDownFollows(
            String unit, double ratedA, double heldV, int dwellMs, int coolS) throws Exception {
        List<WatchedPlant> watched = new ArrayList<>();
        SimulatedRun.Done done = SimulatedRun.to(
                        unit,
                        "load-sweep, current-limit",
                        "limit_dwell_ms = 300",
                        "limit_dwell_ms = " + dwellMs,
                        "limit_cool_down_s = 3",
                        "limit_cool_down_s = " + coolS)
                .plant(plant -> {
                    watched.add(new WatchedPlant(plant, heldV));
                    return watched.get(0);
                })
                .run(data);

        assertEquals(RunOutcome.End.COMPLETED, done.result().run().outcome().end());
        List<WatchedPlant.Strain> strains = watched.get(0).strains;
        // one for each halving, eight down the curve, one to let go from; some of the halvings held
        assertTrue(strains.size() >= 10, strains::toString);
        double rawV = 22;
        for (int i = 0; i < strains.size(); i++) {
            WatchedPlant.Strain strain = strains.get(i);
            assertTrue(strain.durationS() <= 1e-3 * dwellMs, strain::toString);
            // no more than the raw voltage times a limit of 140 % could do in that time
            assertTrue(strain.energyJ() <= rawV * 1.4 * ratedA * 1e-3 * dwellMs, strain::toString);
            double restS = i == 0
                    ? coolS
                    : strain.fromS()
                            - strains.get(i - 1).fromS()
                            - strains.get(i - 1).durationS();
            assertTrue(restS >= coolS, strain::toString);
        }
        // half a minute of search on a heat sink that takes minutes to warm
        assertTrue(watched.get(0).hottestC < 27, () -> watched.get(0).hottestC + " °C");
    }

    @Test
    void aDwellTooShortForTheWayDownEndsTheCurveAndSaysSo() throws Exception {
        SimulatedRun.Done done = SimulatedRun.to(
                        "bench-12v",
                        "load-sweep, current-limit",
                        "limit_dwell_ms = 300",
                        "limit_dwell_ms = 40",
                        "limit_cool_down_s = 3",
                        "limit_cool_down_s = 0.5")
                .run(data);

        assertEquals(RunOutcome.End.COMPLETED, done.result().run().outcome().end());
        assertTrue(done.notes().contains("a dwell of 40 ms is too short to come down to"), done::notes);
        assertTrue(
                done.points(Section.CURRENT_LIMIT).stream()
                        .noneMatch(point -> point.note().equals("released")),
                "there was no time to let go in");
    }
}

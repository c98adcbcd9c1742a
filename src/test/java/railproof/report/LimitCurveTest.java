package railproof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.run.Point;
import railproof.run.RunData;
import railproof.run.Section;

/** The limit's curve is drawn along the curve, in whatever order the search took its points. */
class LimitCurveTest {
    @Test
    void theOrderOfTheSearchDoesNotShow() {
        SampleRun sample = SampleRun.plain();
        RunData data = sample.data();
        // over the knee and back: the sample's points stand in this order
        String expected = svg(sample, data);
        long seed = 20261125;
        Random random = new Random(seed);
        for (int i = 0; i < 20; i++) {
            List<Point> points = new ArrayList<>(data.points());
            Collections.shuffle(points, random);
            RunData shuffled = new RunData(data.header(), points, data.waveforms(), data.events(), data.outcome());
            assertEquals(expected, svg(sample, shuffled), "seed " + seed);
        }
        assertEquals(7, data.points(Section.CURRENT_LIMIT, "+12 V").size());
    }

    private static String svg(SampleRun sample, RunData data) {
        return new Curves(data, sample.profile().rails().get(0), Optional.empty())
                .limit()
                .orElseThrow()
                .svg("limit")
                .toString();
    }
}

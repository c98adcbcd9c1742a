package railproof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.run.Point;
import railproof.run.Quantity;
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

    @Test
    void anOutputReadWhileItFellIsNoPartOfTheCurve() {
        SampleRun sample = SampleRun.plain();
        RunData data = sample.data();
        Point steady = data.points(Section.CURRENT_LIMIT, "+12 V").get(0);
        Measured current = steady.reading(Quantity.LOAD_CURRENT).measured().orElseThrow();
        Point falling = new Point(
                data.points().size(),
                Section.CURRENT_LIMIT,
                "+12 V",
                steady.asked(),
                steady.elapsedS(),
                false,
                Map.of(
                        Quantity.LOAD_CURRENT,
                        Measured.of(0.4 * current.value(), 1e-3, Unit.AMPERE),
                        Quantity.OUTPUT,
                        Measured.of(1.4, 0.1, Unit.VOLT)),
                OptionalInt.empty(),
                "collapsed");
        List<Point> points = new ArrayList<>(data.points());
        points.add(falling);
        RunData with = new RunData(data.header(), points, data.waveforms(), data.events(), data.outcome());

        assertEquals(svg(sample, data), svg(sample, with));
    }

    private static String svg(SampleRun sample, RunData data) {
        return new Curves(data, sample.profile().rails().get(0), Optional.empty())
                .limit()
                .orElseThrow()
                .svg("limit")
                .toString();
    }
}

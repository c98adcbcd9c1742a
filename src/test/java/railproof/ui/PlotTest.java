package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.file.BuiltInFiles;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Setpoint;

class PlotTest {
    private static final Profile TYPE = BuiltInFiles.profile("counter-5v").profile();
    private static final Rail RAIL = TYPE.rails().get(0);

    private static Plot plot(double lowV, double highV, List<Plot.Dot> dots) {
        return new Plot(
                "p",
                new Plot.Axis("load current", Unit.AMPERE, 0, 8),
                new Plot.Axis("output", Unit.VOLT, lowV, highV),
                dots,
                Plot.ANY,
                Plot.ANY);
    }

    @Test
    void anEarlierCurveBehindALaterOneIsHeldByTheAxes() {
        Plot after = plot(4.8, 5.2, List.of(new Plot.Dot(1, 5)));
        Plot before = plot(4.1, 5.1, List.of(new Plot.Dot(8, 4.2)));

        Plot both = after.over(before);

        assertEquals(after.curve(), both.curve());
        assertEquals(before.curve(), both.before());
        assertEquals(4.1, both.y().lowDimensionless());
        assertEquals(5.2, both.y().highDimensionless());
    }

    @Test
    void hoursOfABurnInKeepTheirOneShortDip() {
        List<Point> rows = new ArrayList<>();
        for (int i = 0; i < 20_000; i++) {
            double outputV = i == 7777 ? 4.2 : 5;
            rows.add(new Point(
                    i,
                    Section.BURN_IN,
                    RAIL.name(),
                    new Setpoint("CC", 7.2, 115),
                    10.0 * i,
                    true,
                    Map.of(
                            Quantity.OUTPUT, Measured.of(outputV, 0.001, Unit.VOLT),
                            Quantity.LOADED_TIME, Measured.of(10.0 * i, 0.1, Unit.SECOND)),
                    OptionalInt.empty(),
                    ""));
        }

        Plot hours = Plots.of(Section.BURN_IN, RAIL, TYPE.line(), rows);

        assertTrue(hours.curve().size() <= 500, "drawn with " + hours.curve().size() + " points");
        assertEquals(
                4.2,
                hours.curve().stream()
                        .mapToDouble(Plot.Dot::yDimensionless)
                        .min()
                        .orElseThrow());
    }
}

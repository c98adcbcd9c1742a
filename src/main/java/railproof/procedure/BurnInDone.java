package railproof.procedure;

import java.util.Map;
import java.util.TreeMap;
import railproof.base.Measured;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;

/**
 * How far a burn-in had come when it broke off, from its record.
 *
 * @param loadedS time under load of the last row on record, s
 * @param firstHot first hot reading of each rail that has one
 * @param waveforms captures kept
 */
public record BurnInDone(double loadedS, Map<String, HotReading> firstHot, int waveforms) {
    /** A burn-in that has not begun. */
    public static final BurnInDone NOTHING = new BurnInDone(0, Map.of(), 0);

    public BurnInDone {
        firstHot = Map.copyOf(firstHot);
    }

    /**
     * What drift and ripple are compared with.
     *
     * @param outputV magnitude of the output, V
     * @param ripplePpV ripple, peak to peak, V; 0 if it was not measured
     */
    public record HotReading(double outputV, double ripplePpV) {
        static HotReading of(Point point) {
            return new HotReading(Math.abs(value(point, Quantity.OUTPUT)), value(point, Quantity.RIPPLE_PP));
        }

        private static double value(Point point, Quantity quantity) {
            return point.reading(quantity).measured().map(Measured::value).orElse(0.0);
        }
    }

    /** From a record that broke off. */
    public static BurnInDone of(RunData run) {
        double loadedS = 0;
        Map<String, HotReading> hot = new TreeMap<>();
        for (Point point : run.points()) {
            loadedS = Math.max(
                    loadedS,
                    point.reading(Quantity.LOADED_TIME)
                            .measured()
                            .map(Measured::value)
                            .orElse(0.0));
            if (point.section() == Section.BURN_IN_HOT) {
                hot.putIfAbsent(point.rail(), HotReading.of(point));
            }
        }
        return new BurnInDone(loadedS, hot, run.waveforms().size());
    }
}

package railproof.ui;

import java.util.ArrayList;
import java.util.List;

/** Round numbers along an axis: 1, 2 or 5 times a power of ten apart. Pure. */
final class Ticks {
    private Ticks() {}

    /**
     * About so many round numbers between two ends.
     *
     * @param high above {@code low}
     * @param about 2 or more
     */
    static List<Double> of(double low, double high, int about) {
        double rough = (high - low) / about;
        double power = Math.pow(10, Math.floor(Math.log10(rough)));
        double step = power;
        for (double factor : new double[] {1, 2, 5, 10}) {
            step = factor * power;
            if (step >= rough) {
                break;
            }
        }
        List<Double> ticks = new ArrayList<>();
        for (long i = (long) Math.ceil(low / step - 1e-9); i * step <= high + 1e-9 * step; i++) {
            ticks.add(i * step);
        }
        return ticks;
    }
}

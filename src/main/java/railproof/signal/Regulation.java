package railproof.signal;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * Differences and ratios of two readings taken on one channel: load and line regulation.
 *
 * <p>The channel's own error (the shared part) is the same fact in both readings and is carried as fully correlated: in
 * a difference the shared parts subtract, |s₁ − s₂|; in a ratio a gain error cancels altogether. The varying parts are
 * independent (GUM, JCGM 100:2008, 5.1 and 5.2). A drop in the leads is one unknown resistance times two currents:
 * fully correlated as well, so that it stays whole in load regulation and goes out of line regulation.
 *
 * <p>Give both voltages as magnitudes (a negative rail turned round); falling output is positive.
 *
 * <p>Thread: pure; any.
 */
public final class Regulation {
    private Regulation() {}

    /** first − second, V: the plain form; 50 mV for 5.00 V → 4.95 V. */
    public static Measured difference(Measured first, Measured second) {
        return combine(first, 1, second, -1, first.value() - second.value(), first.unit());
    }

    /**
     * first − second of two readings that share nothing: other channels, or another calibration in between. All parts
     * add in squares.
     */
    public static Measured differenceOfStrangers(Measured first, Measured second) {
        Measured alike = difference(first, second);
        return new Measured(
                alike.value(),
                alike.randomU(),
                Math.hypot(first.sharedU(), second.sharedU()),
                Math.hypot(first.leadU(), second.leadU()),
                alike.randomDof(),
                alike.unit());
    }

    /**
     * (V_no-load − V_full-load) / V_full-load, the textbooks' form; 0.010101 for 5.00 V → 4.95 V.
     *
     * @throws IllegalArgumentException if the output at full load is zero or turned round
     */
    public static Measured ofFullLoad(Measured noLoad, Measured fullLoad) {
        double base = positive("output at full load", fullLoad);
        double value = (noLoad.value() - fullLoad.value()) / base;
        return combine(noLoad, 1 / base, fullLoad, -noLoad.value() / (base * base), value, Unit.RATIO);
    }

    /**
     * (V_no-load − V_full-load) / V_no-load, some makers' form; 0.01 for 5.00 V → 4.95 V.
     *
     * @throws IllegalArgumentException if the output without load is zero or turned round
     */
    public static Measured ofNoLoad(Measured noLoad, Measured fullLoad) {
        double base = positive("output without load", noLoad);
        double value = (noLoad.value() - fullLoad.value()) / base;
        return combine(noLoad, fullLoad.value() / (base * base), fullLoad, -1 / base, value, Unit.RATIO);
    }

    /**
     * (first − second) / a fixed voltage without uncertainty: of nominal, or line regulation of the output.
     *
     * @param baseV what it is a ratio of, V, above zero
     */
    public static Measured ofBase(Measured first, Measured second, double baseV) {
        Samples.requirePositive("base", baseV);
        double value = (first.value() - second.value()) / baseV;
        return combine(first, 1 / baseV, second, -1 / baseV, value, Unit.RATIO);
    }

    private static double positive(String what, Measured voltage) {
        if (!(voltage.value() > 0)) {
            throw new IllegalArgumentException(what + " must be above zero, got " + voltage.value() + " V");
        }
        return voltage.value();
    }

    private static Measured combine(Measured a, double ca, Measured b, double cb, double value, Unit unit) {
        double ra = ca * a.randomU();
        double rb = cb * b.randomU();
        double random = Math.hypot(ra, rb);
        double shared = Math.abs(ca * a.sharedU() + cb * b.sharedU());
        // one resistance, two currents: fully correlated too, and gone only where the currents are alike
        double lead = Math.abs(ca * a.leadU() + cb * b.leadU());
        double parts = Math.pow(ra, 4) / a.randomDof() + Math.pow(rb, 4) / b.randomDof();
        double dof = parts > 0 ? Math.max(1, Math.pow(random, 4) / parts) : Double.POSITIVE_INFINITY;
        return new Measured(value, random, shared, lead, dof, unit);
    }
}

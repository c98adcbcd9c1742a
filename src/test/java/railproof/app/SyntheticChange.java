package railproof.app;

import java.util.OptionalDouble;
import java.util.Random;
import railproof.run.Section;

/**
 * How the synthetic rail goes from one level to another, as a function of time, with what a perfect meter would read of
 * it: looked up on a grid a tenth of the bench's samples, without noise, steps or errors. Sawtooth ripple throughout.
 */
final class SyntheticChange {
    /** Band of the load step, V about the final level; and of the output, V. */
    static final double STEP_BAND_V = 0.025;

    static final double LOW_V = 4.5;
    static final double HIGH_V = 5.5;

    private static final double FINE_S = 4e-6;
    private static final double COARSE_S = 40e-6;

    private final Section section;
    private final Level before;
    private final Level after;
    private final double lineHz;
    private final double phase;
    private final double tauS;
    private final double farthestV;
    private final double omegaTau;
    private final double heldS;
    private final double fallVPerS;

    /** A level with its ripple, V and V peak to peak. */
    record Level(double volts, double ripplePpV) {}

    /**
     * What a perfect meter would have read.
     *
     * @param timeS until the output was in its band for good, or left it
     * @param underV farthest below the final level
     * @param overV farthest above it
     */
    record Truth(OptionalDouble timeS, double underV, double overV) {}

    SyntheticChange(Random random, Section section, Level before, Level after, double lineHz, double phase) {
        this.section = section;
        this.before = before;
        this.after = after;
        this.lineHz = lineHz;
        this.phase = phase;
        boolean step = section == Section.LOAD_STEP;
        tauS = step ? 120e-6 + 1e-3 * random.nextDouble() : 2e-3 + 8e-3 * random.nextDouble();
        double dipV = 0.04 + 0.08 * random.nextDouble();
        omegaTau = 0.8 + 0.7 * random.nextDouble();
        double overshootV = Math.abs(after.volts() - before.volts()) * Math.exp(-Math.PI / omegaTau);
        farthestV = step ? dipV : overshootV;
        heldS = 0.01 + 0.05 * random.nextDouble();
        fallVPerS = 20 + 200 * random.nextDouble();
    }

    double finalV() {
        return after.volts();
    }

    double farthestV() {
        return farthestV;
    }

    /** The true output, V, so long after the change. */
    double voltsAt(double sinceS) {
        double cycles = 2 * (sinceS * lineHz + phase) + 1000;
        double saw = 0.5 - cycles % 1;
        if (sinceS < 0) {
            return before.volts() + before.ripplePpV() * saw;
        }
        return switch (section) {
            case HOLD_UP ->
                Math.max(0, before.volts() + before.ripplePpV() * saw - fallVPerS * Math.max(0, sinceS - heldS));
            case LOAD_STEP -> {
                double x = sinceS / tauS;
                double side = Math.signum(before.volts() - after.volts());
                double dip = side * farthestV * x * Math.exp(1 - x);
                double way = (before.volts() - after.volts()) * Math.exp(-10 * x);
                yield after.volts() + way - dip + after.ripplePpV() * saw;
            }
            // the output capacitor is charged as fast as the limit lets it be
            case CURRENT_LIMIT ->
                after.volts() + (before.volts() - after.volts()) * Math.exp(-sinceS / tauS) + after.ripplePpV() * saw;
            default -> {
                double x = sinceS / tauS;
                double left = Math.exp(-x) * (Math.cos(omegaTau * x) + Math.sin(omegaTau * x) / omegaTau);
                yield after.volts() + (before.volts() - after.volts()) * left + after.ripplePpV() * saw;
            }
        };
    }

    /** What a perfect meter reads of a record of this length after the change. */
    Truth truth(double recordS) {
        double lastOutsideS = Double.NaN;
        double under = 0;
        double over = 0;
        double cameFrom = Math.signum(before.volts() - after.volts());
        boolean arrived = section != Section.LOAD_STEP;
        // then nothing but ripple is left, whose tops and troughs are flat enough
        double movingS = section == Section.HOLD_UP ? recordS : 12 * tauS;
        for (double sinceS = FINE_S / 2; sinceS < recordS; sinceS += sinceS < movingS ? FINE_S : COARSE_S) {
            double v = voltsAt(sinceS);
            double off = v - after.volts();
            arrived |= off * cameFrom <= 0;
            under = arrived || cameFrom > 0 ? Math.max(under, -off) : under;
            over = arrived || cameFrom < 0 ? Math.max(over, off) : over;
            boolean outside = section == Section.LOAD_STEP ? Math.abs(off) > STEP_BAND_V : v < LOW_V || v > HIGH_V;
            if (section == Section.HOLD_UP && outside) {
                return new Truth(OptionalDouble.of(sinceS - FINE_S / 2), under, over);
            }
            lastOutsideS = outside ? sinceS : lastOutsideS;
        }
        return new Truth(OptionalDouble.of(Double.isNaN(lastOutsideS) ? 0 : lastOutsideS + FINE_S / 2), under, over);
    }
}

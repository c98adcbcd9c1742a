package railproof.signal;

import java.util.stream.IntStream;

/**
 * The reservoir capacitor behind a rectifier: what its ripple should be, and what its ripple says of it.
 *
 * <p>The usual formula Vpp = I / (p f C) is an upper bound: it lets the capacitor alone feed the load for the whole
 * period. The exact ideal waveform (no source resistance) is solved here instead: diode off at θ₁ = atan(1 / ωRC), on
 * again at θ₂ where cos θ₁ exp(−(θ₂ − θ₁) / ωRC) = cos(θ₂ − T), T = 2π / p.
 *
 * <p>Thread: pure; any.
 */
public final class Reservoir {
    /** How fast a reservoir falls is read from stretches of this share of a ripple period. */
    public static final double STRETCH_RATIO = 0.1;

    private Reservoir() {}

    /** Charging pulses per line cycle. */
    public enum Rectifier {
        /** One pulse. */
        HALF_WAVE(1),
        /** Two pulses: bridge or centre tap. */
        FULL_WAVE(2);

        private final int pulses;

        Rectifier(int pulses) {
            this.pulses = pulses;
        }

        /** Pulses per line cycle, p. */
        public int pulses() {
            return pulses;
        }
    }

    /**
     * The exact ideal waveform, all over the peak voltage after the diodes.
     *
     * @param lowestRatio trough
     * @param ppRatio ripple, peak to peak
     * @param meanRatio mean
     * @param rmsRatio ripple, root mean square about the mean
     * @param correctionRatio k: true ripple over I / (p f C)
     */
    public record Ideal(
            double lowestRatio, double ppRatio, double meanRatio, double rmsRatio, double correctionRatio) {}

    /**
     * Solves the ideal waveform.
     *
     * @param omegaRc 2π f R C, above zero
     */
    public static Ideal ideal(Rectifier rectifier, double omegaRc) {
        Samples.requirePositive("2 pi f R C", omegaRc);
        double period = 2 * Math.PI / rectifier.pulses();
        double off = Math.atan(1 / omegaRc);
        double on = turnOn(omegaRc, period, off);
        // integrals of v and v² over one period: the exponential from off to on, the cosine from on to T + off
        double start = Math.cos(off);
        double fallen = Math.exp(-(on - off) / omegaRc);
        double v1 = start * omegaRc * (1 - fallen);
        double v2 = start * start * omegaRc / 2 * (1 - fallen * fallen);
        double c1 = Math.sin(off) - Math.sin(on - period);
        double length = off - (on - period);
        double c2 = 0.5 * length + 0.25 * (Math.sin(2 * off) - Math.sin(2 * (on - period)));
        double mean = (v1 + c1) / period;
        double rms = Math.sqrt(Math.max(0, (v2 + c2) / period - mean * mean));
        double lowest = start * fallen;
        double simple = mean * period / omegaRc;
        return new Ideal(lowest, 1 - lowest, mean, rms, (1 - lowest) / simple);
    }

    private static double turnOn(double omegaRc, double period, double off) {
        // f = discharge − cosine: above zero just before the cosine rises through it, below at the next crest
        double low = Math.max(off, period - 0.5 * Math.PI);
        double high = period;
        for (int i = 0; i < 200 && high > low; i++) {
            double middle = 0.5 * (low + high);
            if (middle <= low || middle >= high) {
                break;
            }
            boolean before = Math.cos(off) * Math.exp(-(middle - off) / omegaRc) > Math.cos(middle - period);
            low = before ? middle : low;
            high = before ? high : middle;
        }
        return 0.5 * (low + high);
    }

    /** Upper bound of the ripple, V peak to peak: I / (p f C). */
    public static double rippleBoundV(Rectifier rectifier, double loadA, double lineHz, double reservoirF) {
        Samples.requirePositive("line frequency", lineHz);
        Samples.requirePositive("capacitance", reservoirF);
        return loadA / (rectifier.pulses() * lineHz * reservoirF);
    }

    /**
     * The capacitance that gives a measured ripple, F: k I / (p f Vpp), with k of the ideal waveform at the ωRC that
     * follows. A source resistance makes the ripple smaller and so the result larger (by about 14 % at 1 % of the load
     * resistance and ωRC 50): the optimistic side. With a waveform at hand {@link #dischargeSlopeVPerS} is free of that.
     *
     * @param loadA current out of the reservoir, A
     * @param ripplePpV ripple, V peak to peak
     * @param meanV mean voltage, V
     * @param lineHz line frequency, Hz
     */
    public static double capacitanceF(
            Rectifier rectifier, double loadA, double ripplePpV, double meanV, double lineHz) {
        Samples.requirePositive("load current", loadA);
        Samples.requirePositive("ripple", ripplePpV);
        Samples.requirePositive("mean voltage", meanV);
        Samples.requirePositive("line frequency", lineHz);
        double wanted = ripplePpV / meanV;
        double low = 1e-3;
        double high = 1e7;
        for (int i = 0; i < 200; i++) {
            double middle = Math.sqrt(low * high);
            Ideal ideal = ideal(rectifier, middle);
            // more capacitance, less ripple
            boolean tooMuch = ideal.ppRatio() / ideal.meanRatio() > wanted;
            low = tooMuch ? middle : low;
            high = tooMuch ? high : middle;
        }
        return Math.sqrt(low * high) * loadA / (2 * Math.PI * lineHz * meanV);
    }

    /**
     * How fast the reservoir falls while nothing charges it, V/s, negative: the median of all falling stretches of a
     * tenth of a ripple period. The rectifier charges for the smaller part of the period, so the median is of the
     * discharge; it does not care about the source resistance.
     *
     * @param reservoirV magnitude of the reservoir voltage, V, oldest first
     * @param rateHz samples per second, Hz
     * @param lineHz line frequency, Hz
     * @throws IllegalArgumentException if the voltage never falls, or there is less than a ripple period
     */
    public static double dischargeSlopeVPerS(double[] reservoirV, Rectifier rectifier, double rateHz, double lineHz) {
        Samples.requirePositive("line frequency", lineHz);
        double periodSamples = rateHz / (rectifier.pulses() * lineHz);
        Samples.require(reservoirV, (int) Math.ceil(periodSamples) + 1);
        int lag = (int) Math.max(1, Math.round(STRETCH_RATIO * periodSamples));
        double[] falling = IntStream.range(0, reservoirV.length - lag)
                .mapToDouble(i -> reservoirV[i + lag] - reservoirV[i])
                .filter(d -> d < 0)
                .toArray();
        if (falling.length == 0) {
            throw new IllegalArgumentException("the voltage never falls: no discharge to be seen");
        }
        return Samples.median(falling) * rateHz / lag;
    }

    /** Capacitance from the slope of the discharge while the rectifier does not conduct, F: I / |dv/dt|. */
    public static double capacitanceFromSlopeF(double loadA, double slopeVPerS) {
        Samples.requirePositive("magnitude of the slope", Math.abs(slopeVPerS));
        return loadA / Math.abs(slopeVPerS);
    }

    /**
     * Equivalent series resistance from a load step: the voltage's jump over the current's, Ω; both straight lines
     * drawn on to the instant of the step.
     *
     * @param before line through the voltage before the step (time in s, V)
     * @param after line through the voltage after it
     * @param stepS instant of the step, s
     * @param stepA change of the load current, A, not zero
     */
    public static double seriesResistanceOhm(StraightLine before, StraightLine after, double stepS, double stepA) {
        Samples.requirePositive("magnitude of the current step", Math.abs(stepA));
        return (before.at(stepS) - after.at(stepS)) / stepA;
    }

    /** Hold-up time of a linear regulator (constant current) from one reservoir voltage down to another, s. */
    public static double holdUpS(double reservoirF, double fromV, double toV, double loadA) {
        Samples.requirePositive("load current", loadA);
        return reservoirF * (fromV - toV) / loadA;
    }

    /** Hold-up time at constant power, s. */
    public static double holdUpAtPowerS(double reservoirF, double fromV, double toV, double loadW) {
        Samples.requirePositive("load power", loadW);
        return reservoirF * (fromV * fromV - toV * toV) / (2 * loadW);
    }

    /**
     * Headroom in the troughs: the lowest voltage of each ripple cycle (median over the line cycles of the window) less
     * the output, V. This, not the mean, is what the regulator must live on.
     */
    public static double troughHeadroomV(double[] reservoirV, Cycles window, double outputV) {
        double[] lowest = new double[window.count()];
        for (int i = 0; i < lowest.length; i++) {
            double least = Double.POSITIVE_INFINITY;
            for (int k = window.firstSample(i); k < window.firstSample(i + 1); k++) {
                least = Math.min(least, reservoirV[k]);
            }
            lowest[i] = least;
        }
        return Samples.median(lowest) - outputV;
    }
}

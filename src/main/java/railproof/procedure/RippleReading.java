package railproof.procedure;

import railproof.base.Measured;
import railproof.rig.Accuracy;
import railproof.signal.Cycles;
import railproof.signal.Ripple;
import railproof.signal.RippleNoise;

/** Ripple as the unit has it: what the channel adds of its own taken off, and what that costs in uncertainty. Pure. */
final class RippleReading {
    /** Relative standard uncertainty of a channel's stated noise. */
    private static final double NOISE_KNOWN_RATIO = 0.2;

    private RippleReading() {}

    /**
     * The peak-to-peak value less what the channel's noise adds to it. Added to its scatter: a fifth of what was taken
     * off, because the noise is known no better. Between two samples hides anything from nothing (rounded peaks) to one
     * step of a full-wave sawtooth, pp over half a cycle's samples: the middle of that is added, half of it is a
     * rectangle's half-width (GUM 4.3.7).
     * The converter's step is a rectangle too: both peaks stand on whole codes, cycle after cycle.
     */
    static Measured peakToPeak(double[] volts, Ripple ripple, Cycles window, Accuracy accuracy) {
        Measured raw = ripple.pp();
        double excessV = RippleNoise.excessPpV(volts, window, accuracy.noiseDimensionless());
        double seenV = Math.max(0, raw.value() - excessV);
        double hiddenV = seenV / window.samplesPerCycle();
        double roughU = Math.hypot(hiddenV / Math.sqrt(3), RippleNoise.resolutionV(volts) / Math.sqrt(12));
        return corrected(raw, seenV + hiddenV, Math.hypot(NOISE_KNOWN_RATIO * excessV, roughU));
    }

    /** The rms value with the channel's noise taken off in squares. */
    static Measured rms(Ripple ripple, Accuracy accuracy) {
        Measured raw = ripple.rms();
        double noiseV = accuracy.noiseDimensionless();
        double value = Math.sqrt(Math.max(0, raw.value() * raw.value() - noiseV * noiseV));
        // d(rms) = noise² / rms · d(noise) / noise; below the noise itself nothing is resolved any more
        double noiseU = noiseV > 0 ? NOISE_KNOWN_RATIO * noiseV * noiseV / Math.max(value, noiseV) : 0;
        return corrected(raw, value, noiseU);
    }

    /** The rms value over the peak-to-peak value: half for a square wave, less for all others. */
    static double rmsShareRatio(Ripple ripple) {
        double ppV = ripple.pp().value();
        return ppV > 0 ? Math.min(0.5, ripple.rms().value() / ppV) : 0;
    }

    private static Measured corrected(Measured raw, double value, double correctionU) {
        double randomU = Math.hypot(raw.randomU(), correctionU);
        // the correction is taken as exactly known, the scatter has its few degrees of freedom (GUM G.4.1)
        double ratio = raw.randomU() > 0 ? randomU / raw.randomU() : Double.POSITIVE_INFINITY;
        return new Measured(value, randomU, 0, Math.max(1, raw.randomDof() * Math.pow(ratio, 4)), raw.unit());
    }
}

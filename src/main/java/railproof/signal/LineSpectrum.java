package railproof.signal;

import java.util.Arrays;
import java.util.Locale;

/**
 * Ripple taken apart along the line frequency: what is at the line and its multiples, and what is not.
 *
 * <p>One, two and four times the line are what a diagnosis asks for (unequal half-waves, the reservoir's charging, its
 * shape); what belongs to no multiple is noise or oscillation. Harmonics by least squares at the measured frequency
 * (with d.c. and a ramp), so nothing leaks; the rest from what the fit leaves.
 *
 * <p>Thread: immutable; any.
 */
public final class LineSpectrum {
    /** Multiples of the line that are told apart. */
    public static final int HARMONICS = 20;

    /** A tone under a Hann window is four bins wide; padding with zeros spreads it over up to twice as many. */
    private static final int TONE_BINS = 4;

    private final double[] amplitudes;
    private final double restRmsV;
    private final double fastRmsV;
    private final double strongestRestHz;
    private final double toneRmsV;

    private LineSpectrum(
            double[] amplitudes, double restRmsV, double fastRmsV, double strongestRestHz, double toneRmsV) {
        this.amplitudes = amplitudes;
        this.restRmsV = restRmsV;
        this.fastRmsV = fastRmsV;
        this.strongestRestHz = strongestRestHz;
        this.toneRmsV = toneRmsV;
    }

    /** Whether a record is long and dense enough to be taken apart. */
    public static boolean fits(int samples, double rateHz, double lineHz) {
        return lineHz > 0 && harmonics(rateHz, lineHz) >= 4 && samples >= 3 * rateHz / lineHz;
    }

    private static int harmonics(double rateHz, double lineHz) {
        return (int) Math.min(HARMONICS, Math.ceil(0.5 * rateHz / lineHz) - 1);
    }

    /**
     * Takes a record apart.
     *
     * @param samplesV oldest first, V; at least three line cycles
     * @param rateHz samples per second, Hz; more than eight per line cycle
     * @param lineHz line frequency as measured, Hz
     */
    public static LineSpectrum of(double[] samplesV, double rateHz, double lineHz) {
        Samples.requirePositive("line frequency", lineHz);
        int harmonics = harmonics(rateHz, lineHz);
        if (!fits(samplesV.length, rateHz, lineHz)) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT,
                    "%d samples at %.4g Hz are no record of three cycles of %.4g Hz with four harmonics",
                    samplesV.length,
                    rateHz,
                    lineHz));
        }
        Samples.require(samplesV, 8);
        double[] rest = samplesV.clone();
        double[] amplitudes = Arrays.copyOf(LineHarmonics.takeOff(rest, lineHz / rateHz, harmonics), HARMONICS + 1);
        double restRmsV = Math.sqrt(Samples.squares(rest, 0, 0, rest.length) / rest.length);
        Spectrum spectrum = Spectrum.of(rest, rateHz, Window.HANN);
        double fast = restRmsV * Math.sqrt(spectrum.shareAbove(HARMONICS * lineHz));
        double strongestHz = spectrum.strongestHz();
        double tone = restRmsV * Math.sqrt(spectrum.shareNear(strongestHz, TONE_BINS));
        return new LineSpectrum(amplitudes, restRmsV, fast, strongestHz, tone);
    }

    /**
     * Amplitude (peak) at a multiple of the line, V; 0 where the sample rate does not reach.
     *
     * @param harmonic 1 to {@value #HARMONICS}
     */
    public double amplitudeV(int harmonic) {
        if (harmonic < 1 || harmonic > HARMONICS) {
            throw new IllegalArgumentException("harmonic must be 1 to " + HARMONICS + ", got " + harmonic);
        }
        return amplitudes[harmonic];
    }

    /**
     * Amplitude at the line over that at twice the line. A full-wave rectifier with one diode open gives 2 and more,
     * halves of a winding 1 to 5 % unequal 0.15 to 1; 0 if there is nothing at twice the line.
     */
    public double unbalanceRatio() {
        return amplitudes[2] > 0 ? amplitudes[1] / amplitudes[2] : 0;
    }

    /** Root mean square of what belongs to no multiple of the line up to the {@value #HARMONICS}th, V; drift left out. */
    public double restRmsV() {
        return restRmsV;
    }

    /** The part of the rest above the {@value #HARMONICS}th multiple, V r.m.s. */
    public double fastRmsV() {
        return fastRmsV;
    }

    /** Where the rest is strongest, Hz: an oscillation, if it stands out. */
    public double strongestRestHz() {
        return strongestRestHz;
    }

    /** What of the rest lies in the narrow surroundings of its strongest frequency, V r.m.s. */
    public double toneRmsV() {
        return toneRmsV;
    }

    /** Root mean square of all harmonics of the line together, V. */
    public double lineRmsV() {
        double squares = 0;
        for (int h = 1; h <= HARMONICS; h++) {
            squares += 0.5 * amplitudes[h] * amplitudes[h];
        }
        return Math.sqrt(squares);
    }
}

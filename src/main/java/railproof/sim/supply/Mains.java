package railproof.sim.supply;

/**
 * The mains feed: a phase that runs on across changes, a magnitude and a shape.
 *
 * <p>A crest ratio below that of a sine is made of a third harmonic in phase and a fifth of an eighth of it: with h
 * the third, the peak is 1 - 7h/8 of the fundamental's and stays the only one up to h = 8/47, where the top is flat and
 * the ratio 1.187. Solved for h that is a quadratic.
 */
final class Mains {
    static final double SINE_CREST_RATIO = Math.sqrt(2);
    static final double FLATTEST_CREST_RATIO = 1.19;
    /** Fifth harmonic that goes with the third when a crest ratio is asked for. */
    private static final double FIFTH_PER_THIRD_RATIO = 1.0 / 8;

    private double thirdRatio;
    private double fifthRatio;
    /** Peak of the fundamental over the rms value of the whole. */
    private double fundamentalRatio;

    private double rmsV;
    private double frequencyHz;
    private double anchorS;
    private double anchorCyclesDimensionless;

    Mains(Surroundings surroundings, double frequencyHz) {
        harmonics(surroundings.thirdHarmonicRatio(), surroundings.fifthHarmonicRatio());
        this.frequencyHz = frequencyHz;
    }

    private void harmonics(double newThirdRatio, double newFifthRatio) {
        thirdRatio = newThirdRatio;
        fifthRatio = newFifthRatio;
        fundamentalRatio = Math.sqrt(2 / (1 + thirdRatio * thirdRatio + fifthRatio * fifthRatio));
    }

    /** Makes the shape one of that crest ratio. */
    void crest(double crestRatio) {
        double lost = 1 - FIFTH_PER_THIRD_RATIO;
        double power = 1 + FIFTH_PER_THIRD_RATIO * FIFTH_PER_THIRD_RATIO;
        // crest^2 (1 + power h^2) = 2 (1 - lost h)^2, the smaller root
        double square = crestRatio * crestRatio;
        double a = 2 * lost * lost - power * square;
        double c = Math.max(0, 2 - square);
        double third = c / (2 * lost + Math.sqrt(4 * lost * lost - a * c));
        harmonics(third, FIFTH_PER_THIRD_RATIO * third);
    }

    void change(double timeS, double newRmsV, double newFrequencyHz) {
        double cycles = cycles(timeS);
        anchorCyclesDimensionless = cycles - Math.floor(cycles);
        anchorS = timeS;
        rmsV = newRmsV;
        frequencyHz = newFrequencyHz;
    }

    double rmsV() {
        return rmsV;
    }

    double frequencyHz() {
        return frequencyHz;
    }

    /** Line cycles since the last change of setting, counted from a rising zero. */
    double cycles(double timeS) {
        return anchorCyclesDimensionless + (timeS - anchorS) * frequencyHz;
    }

    /** Instantaneous voltage, V. The harmonics are in phase with the fundamental's zero; the rms value is kept. */
    double valueV(double timeS) {
        if (rmsV == 0) {
            return 0;
        }
        double cycles = cycles(timeS);
        double angle = 2 * Math.PI * (cycles - Math.floor(cycles));
        return rmsV * fundamentalRatio * shape(angle);
    }

    private double shape(double angle) {
        double sine = Math.sin(angle);
        if (thirdRatio == 0 && fifthRatio == 0) {
            return sine;
        }
        return sine + thirdRatio * Math.sin(3 * angle) + fifthRatio * Math.sin(5 * angle);
    }
}

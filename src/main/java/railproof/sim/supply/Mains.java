package railproof.sim.supply;

/** The mains feed: a phase that runs on across changes, a magnitude and a shape. */
final class Mains {
    private final double thirdRatio;
    private final double fifthRatio;
    private final double peakRatio;
    private double rmsV;
    private double frequencyHz;
    private double anchorS;
    private double anchorCyclesDimensionless;

    Mains(Surroundings surroundings, double frequencyHz) {
        thirdRatio = surroundings.thirdHarmonicRatio();
        fifthRatio = surroundings.fifthHarmonicRatio();
        peakRatio = Math.sqrt(2 / (1 + thirdRatio * thirdRatio + fifthRatio * fifthRatio));
        this.frequencyHz = frequencyHz;
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
        double shape = Math.sin(angle);
        if (thirdRatio != 0 || fifthRatio != 0) {
            shape += thirdRatio * Math.sin(3 * angle) + fifthRatio * Math.sin(5 * angle);
        }
        return rmsV * peakRatio * shape;
    }
}

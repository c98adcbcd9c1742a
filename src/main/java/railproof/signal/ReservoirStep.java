package railproof.signal;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * A reservoir's capacitance and series resistance from a load step while the rectifier does not conduct. Both stretches
 * of the discharge, before and after, are straight lines: their slopes differ by ΔI / C, and at the instant of the step
 * they stand ΔI × ESR apart. A current that the unit draws itself is in both and falls out.
 *
 * <p>Steps come at any phase of the line; one that falls into the rectifier's conduction is refused. Repeat it.
 *
 * <p>Thread: immutable; any.
 *
 * @param capacitance F
 * @param seriesResistance Ω; the wiring between the sense leads and the capacitor counts with it
 */
public record ReservoirStep(Measured capacitance, Measured seriesResistance) {
    /** A stretch in which something conducts bends by more than this share of what it falls. */
    private static final double BENT_RATIO = 0.03;

    /** Discharge is steeper after the step in about the ratio of the currents; beyond this factor something else is. */
    private static final double PLAUSIBLE_RATIO = 1.5;

    private static final int LEAST_SAMPLES = 8;

    /**
     * How a step was taken.
     *
     * @param stepS instant of the step from the first sample, s
     * @param guardS what is left out after the step, until the regulator has followed, s; 0 or more
     * @param stretchS how much is looked at on either side, s; shorter than a quarter of a ripple period
     * @param fromA load current before, A, zero or more
     * @param toA load current after, A, above {@code fromA}
     */
    public record Step(double stepS, double guardS, double stretchS, double fromA, double toA) {
        public Step {
            Samples.requirePositive("stretch", stretchS);
            Samples.requirePositive("current step", toA - fromA);
            if (!(guardS >= 0 && guardS < stretchS) || !(fromA >= 0)) {
                throw new IllegalArgumentException("the guard must be shorter than the stretch, and the load zero or"
                        + " more before the step; got " + guardS + " s and " + fromA + " A");
            }
        }
    }

    /**
     * Reads a record of the reservoir's voltage.
     *
     * @param reservoirV magnitude, V, oldest first
     * @param rateHz samples per second, Hz
     * @throws IllegalArgumentException if the record is too short on a side, or the rectifier conducts near the step
     */
    public static ReservoirStep of(double[] reservoirV, double rateHz, Step step) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.require(reservoirV, 2 * LEAST_SAMPLES);
        StraightLine before = line(reservoirV, rateHz, step.stepS - step.stretchS, step.stepS);
        StraightLine after = line(reservoirV, rateHz, step.stepS + step.guardS, step.stepS + step.stretchS);
        double changeA = step.toA - step.fromA;
        double steeperVPerS = before.slopeDimensionless() - after.slopeDimensionless();
        if (!(before.slopeDimensionless() < 0 && steeperVPerS > 0)
                || -before.slopeDimensionless() * step.toA * PLAUSIBLE_RATIO
                        < -after.slopeDimensionless() * step.fromA) {
            throw new IllegalArgumentException("the reservoir does not discharge faster after the step: "
                    + before.slopeDimensionless() + " V/s before, " + after.slopeDimensionless() + " V/s after");
        }
        double capacitanceF = changeA / steeperVPerS;
        double slopesU = Math.hypot(before.slopeU(), after.slopeU());
        double ohm = Reservoir.seriesResistanceOhm(before, after, step.stepS, changeA);
        double stepU = Math.hypot(before.standardUAt(step.stepS), after.standardUAt(step.stepS));
        int dof = Math.min(before.dof(), after.dof());
        return new ReservoirStep(
                new Measured(capacitanceF, capacitanceF * slopesU / steeperVPerS, 0, dof, Unit.FARAD),
                new Measured(ohm, stepU / changeA, 0, dof, Unit.OHM));
    }

    /** The line through the samples strictly between two instants. */
    private static StraightLine line(double[] v, double rateHz, double fromS, double toS) {
        int first = (int) Math.ceil(fromS * rateHz + 1e-6);
        int last = (int) Math.floor(toS * rateHz - 1e-6);
        if (first < 0 || last >= v.length || last - first + 1 < LEAST_SAMPLES) {
            throw new IllegalArgumentException(
                    "the record holds no " + LEAST_SAMPLES + " samples between " + fromS + " and " + toS + " s");
        }
        int n = last - first + 1;
        double[] t = new double[n];
        double[] y = new double[n];
        for (int i = 0; i < n; i++) {
            t[i] = (first + i) / rateHz;
            y[i] = v[first + i];
        }
        StraightLine whole = StraightLine.fit(t, y);
        double fallV = Math.abs(whole.slopeDimensionless()) * (t[n - 1] - t[0]);
        double bendV = Math.abs(middle(y, 0, n / 3) + middle(y, n - n / 3, n) - 2 * middle(y, n / 3, n - n / 3));
        double chanceV = 6 * whole.residualSdDimensionless() / Math.sqrt(n / 3.0);
        if (bendV > BENT_RATIO * fallV && bendV > chanceV) {
            throw new IllegalArgumentException("the discharge is bent between " + fromS + " and " + toS
                    + " s: the rectifier conducts near the step");
        }
        return whole;
    }

    private static double middle(double[] y, int from, int to) {
        return Statistics.mean(java.util.Arrays.copyOfRange(y, from, to));
    }
}

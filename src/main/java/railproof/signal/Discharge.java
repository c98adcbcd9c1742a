package railproof.signal;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * A reservoir's capacitance from how fast it falls at several loads: |dv/dt| = (I + I₀) / C is a straight line over the
 * load current I. What the unit draws itself, I₀, comes out beside it and does no harm.
 *
 * <p>Thread: immutable; any.
 *
 * @param capacitance effective capacitance, F
 * @param standing what the unit draws itself, A
 */
public record Discharge(Measured capacitance, Measured standing) {
    /**
     * Fits.
     *
     * @param loadsA load currents, A, at least three, not all the same
     * @param slopesVPerS discharge at each, V/s, as {@link Reservoir#dischargeSlopeVPerS} gives it
     * @throws IllegalArgumentException if the reservoir does not fall faster with more load
     */
    public static Discharge over(double[] loadsA, double[] slopesVPerS) {
        double[] steepness = new double[slopesVPerS.length];
        for (int i = 0; i < steepness.length; i++) {
            steepness[i] = Math.abs(slopesVPerS[i]);
        }
        StraightLine line = StraightLine.fit(loadsA, steepness);
        double slope = line.slopeDimensionless();
        Samples.requirePositive("growth of the discharge with the load", slope);
        double capacitanceF = 1 / slope;
        double standingA = line.interceptDimensionless() / slope;
        // I0 = b0 / b1 with b0 and b1 correlated: the line's own uncertainty where it crosses zero
        double standingU = line.standardUAt(-standingA) / slope;
        return new Discharge(
                new Measured(capacitanceF, capacitanceF * line.slopeU() / slope, 0, line.dof(), Unit.FARAD),
                new Measured(standingA, standingU, 0, line.dof(), Unit.AMPERE));
    }
}

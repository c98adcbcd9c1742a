package railproof.app;

import java.time.LocalDate;
import java.util.List;
import railproof.rig.ChannelCalibration;
import railproof.signal.Coverage;
import railproof.signal.StraightLine;

/**
 * From levels and reference readings to a channel's calibration: a straight line by least squares (checked against NIST
 * StRD Norris and GUM H.3), taken about the mean of the levels, where slope and height are uncorrelated.
 *
 * <p>With few levels the scatter itself is poorly known. Its uncertainties are widened by t/2, with Student's t for
 * the degrees of freedom left (GUM G.3), so that whoever takes them as exactly known and expands by k = 2 still
 * covers 95 %.
 */
final class CalibrationFit {
    private CalibrationFit() {}

    /**
     * Fits.
     *
     * @param nominal what the channel read on its nominal scale, at least three levels, not all the same
     * @param reference what the reference meter read
     */
    static ChannelCalibration of(
            List<Double> nominal,
            List<Double> reference,
            ChannelCalibration.Reference meter,
            LocalDate on,
            LocalDate dueOn) {
        double[] x = nominal.stream().mapToDouble(Double::doubleValue).toArray();
        double[] y = reference.stream().mapToDouble(Double::doubleValue).toArray();
        StraightLine line = StraightLine.fit(x, y);
        double pivot =
                nominal.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
        double widening = Coverage.P95_45.factor(line.dof()) / 2;
        return new ChannelCalibration(
                line.slopeDimensionless(),
                line.interceptDimensionless(),
                pivot,
                widening * line.slopeU(),
                widening * line.residualSdDimensionless() / Math.sqrt(x.length),
                line.residualSdDimensionless(),
                meter,
                on,
                dueOn,
                0);
    }
}

package railproof.rig;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/**
 * What a calibration found of one channel: the straight line from what the rig file's nominal scale says to what the
 * reference meter said, {@code true = offset + gain · nominal}, and how well that line is known. Uncertainties are
 * standard uncertainties in the channel's unit.
 *
 * @param gainRatio slope of the line, near 1
 * @param offsetDimensionless value of the line at nominal 0
 * @param pivotDimensionless mean of the calibrated levels; slope and height there are independent
 * @param gainURatio of the slope, from the scatter about the line
 * @param heightUDimensionless of the line's height at the pivot, from the scatter
 * @param residualSdDimensionless residual standard deviation about the line: what no line can take out
 * @param reference what it was compared with
 * @param calibratedOn the day of the calibration
 * @param dueOn the last day it may be used for sign-off
 * @param leadUOhm standard uncertainty of the resistance left between terminals and channel, Ω; 0 if not checked
 */
public record ChannelCalibration(
        double gainRatio,
        double offsetDimensionless,
        double pivotDimensionless,
        double gainURatio,
        double heightUDimensionless,
        double residualSdDimensionless,
        Reference reference,
        LocalDate calibratedOn,
        LocalDate dueOn,
        double leadUOhm) {
    private static final double DAYS_PER_YEAR = 365.25;

    /**
     * The reference meter.
     *
     * @param meter what it is, with its serial number
     * @param gainURatio its standard uncertainty that grows with the reading, relative
     * @param offsetUDimensionless its constant standard uncertainty, in the channel's unit
     */
    public record Reference(String meter, double gainURatio, double offsetUDimensionless) {}

    public ChannelCalibration {
        if (!(gainRatio > 0)) {
            throw new IllegalArgumentException("gain must be above zero, got " + gainRatio);
        }
        if (dueOn.isBefore(calibratedOn)) {
            throw new IllegalArgumentException("due on " + dueOn + ", before the calibration on " + calibratedOn);
        }
    }

    /**
     * The same with what the lead-drop check found: the channel on the terminals of a loaded supply against the same
     * reference meter, so that the meter's own errors are in both and fall out. What is found is not corrected for, it is
     * nobody's to rely on; it counts as it is, together with what the check itself cannot tell from nothing (the line's
     * height and the scatter about it).
     *
     * @param dropDimensionless channel less reference, in the channel's unit
     * @param currentA current in the load leads during the check, A, above zero
     */
    public ChannelCalibration withLeadDrop(double dropDimensionless, double currentA) {
        double u = Math.hypot(dropDimensionless, Math.hypot(heightUDimensionless, residualSdDimensionless));
        return new ChannelCalibration(
                gainRatio,
                offsetDimensionless,
                pivotDimensionless,
                gainURatio,
                heightUDimensionless,
                residualSdDimensionless,
                reference,
                calibratedOn,
                dueOn,
                u / currentA);
    }

    /** The value that the reference would have shown. */
    public double corrected(double nominal) {
        return offsetDimensionless + gainRatio * nominal;
    }

    /** The nominal value of a true one. */
    double nominal(double value) {
        return (value - offsetDimensionless) / gainRatio;
    }

    /**
     * The channel's accuracy with this calibration applied.
     *
     * @param stated what the rig file says; only its noise still counts
     * @param driftURatioPerYear standard uncertainty of the gain from a year's drift, relative
     * @param today the day of the measurement
     */
    public Accuracy accuracy(Accuracy stated, double driftURatioPerYear, LocalDate today) {
        double years = Math.max(0, ChronoUnit.DAYS.between(calibratedOn, today)) / DAYS_PER_YEAR;
        return new Accuracy(
                reference.gainURatio(),
                Math.hypot(reference.offsetUDimensionless(), heightUDimensionless),
                residualSdDimensionless,
                stated.noiseDimensionless(),
                driftURatioPerYear * years,
                gainURatio,
                pivotDimensionless,
                leadUOhm);
    }
}

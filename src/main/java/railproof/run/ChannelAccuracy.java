package railproof.run;

import java.time.LocalDate;
import java.util.Optional;

/**
 * How well one channel measured in a run: the parts that every uncertainty budget is made of, recorded by the measuring
 * side so that a budget can be written from the archived run alone. Standard uncertainties, in the unit of the quantity.
 *
 * @param rail the rail it was on
 * @param quantity what it measured there
 * @param channel its name in the rig file
 * @param gainURatio of the gain, relative: the reference meter's, or the data sheet's if it was never calibrated
 * @param offsetUDimensionless of the zero
 * @param fitGainURatio of the calibrated line's slope about {@code fitPivotDimensionless}, relative
 * @param fitPivotDimensionless mean of the calibrated levels
 * @param nonLinearityUDimensionless left after the straight line
 * @param noiseRmsDimensionless of one sample
 * @param stepDimensionless resolution: one code of the converter, or one digit of the instrument
 * @param driftURatio of the gain, from drift between calibration and run, relative; 0 if the rig file states no drift
 * @param leadUOhm of the resistance in which the load current may drop before the channel, Ω; 0 if it was not checked
 * @param calibration when and with what it was calibrated; empty if it was not
 */
public record ChannelAccuracy(
        String rail,
        Quantity quantity,
        String channel,
        double gainURatio,
        double offsetUDimensionless,
        double fitGainURatio,
        double fitPivotDimensionless,
        double nonLinearityUDimensionless,
        double noiseRmsDimensionless,
        double stepDimensionless,
        double driftURatio,
        double leadUOhm,
        Optional<Calibrated> calibration) {
    /**
     * A calibration in short.
     *
     * @param on the day it was made
     * @param dueOn the last day it holds for sign-off
     * @param reference the meter it was compared with
     */
    public record Calibrated(LocalDate on, LocalDate dueOn, String reference) {}
}

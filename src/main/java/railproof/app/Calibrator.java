package railproof.app;

import java.util.OptionalDouble;

/**
 * Whoever applies the levels of a calibration and reads the reference meter: the operator, or a simulated calibrator.
 *
 * <p>Thread: called by the one who calibrates.
 */
public interface Calibrator {
    /** A step of a calibration. */
    enum Step {
        /** A level of the line: apply it to the channel's leads, read the reference meter. */
        LEVEL,
        /** Short the channel's leads at their far ends; the answer is 0. */
        ZERO,
        /** Leads on the terminals of a loaded supply; read the reference meter there. */
        LEAD_DROP,
        /** The current that flowed in the load leads meanwhile, A. */
        LEAD_CURRENT
    }

    /**
     * One step.
     *
     * @param step what is to be done
     * @param channel the channel's name
     * @param level about what level, in the channel's unit
     * @param unit the unit's symbol
     * @return what the reference meter reads, in the unit; empty to leave the step out (a level cannot be left out: the
     *     calibration ends)
     */
    OptionalDouble reading(Step step, String channel, double level, String unit);

    /** A line worth showing. */
    void show(String line);
}

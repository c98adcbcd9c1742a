package railproof.app;

import java.util.Locale;
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
        LEAD_CURRENT;

        /** What a person is asked to do, and to type. */
        public String words(String channel, double level, String unit) {
            String amount = String.format(Locale.ROOT, "%.6g %s", level, unit);
            return switch (this) {
                case LEVEL ->
                    channel + ": apply about " + amount
                            + ", wait until it rests, type what the reference meter reads (" + unit + ")"
                            + (Math.abs(level) > 60 && "V".equals(unit)
                                    ? ". HAZARDOUS LIVE: above 60 V, qualified people only"
                                    : "");
                case ZERO -> channel + ": zero check. Short the leads at their far ends, type 0; empty leaves it out";
                case LEAD_DROP ->
                    channel + ": lead-drop check. Put channel leads, load leads and reference meter on the"
                            + " terminals of a supply of about " + amount
                            + " or less as in a test, load it, type what the reference meter reads; empty"
                            + " leaves it out";
                case LEAD_CURRENT ->
                    channel + ": lead-drop check. Type the current in the load leads (A), as large as in the"
                            + " tests or larger";
            };
        }
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

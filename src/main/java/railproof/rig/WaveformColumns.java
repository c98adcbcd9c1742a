package railproof.rig;

import railproof.run.Quantity;

/** Headings of captured traces: the node's name and its unit. */
public final class WaveformColumns {
    private WaveformColumns() {}

    /** Heading of the trace on the node that a quantity's mean is read from. */
    public static String of(Quantity quantity) {
        return switch (quantity) {
            case OUTPUT, RIPPLE_PP, RIPPLE_RMS, TRANSIENT_TIME, UNDERSHOOT, OVERSHOOT, RINGING -> "output_V";
            case LINE, LINE_FREQUENCY, LINE_PHASE -> "line_V";
            case RAW, RAW_RIPPLE_PP -> "raw_V";
            case BASE -> "base_V";
            case REFERENCE -> "reference_V";
            case SENSE_TAP -> "sense_tap_V";
            case HEAT_SINK -> "heat_sink_C";
            case LOAD_CURRENT -> "load_current_A";
            case LINE_CURRENT -> "line_current_A";
            case LOADED_TIME -> throw new IllegalArgumentException(quantity + " is not read from a node");
        };
    }
}

package railproof.run;

import java.util.Arrays;
import java.util.Optional;
import railproof.base.Unit;

/** What can be read at a point. The column name is the heading in every CSV file and carries the unit. */
public enum Quantity {
    /** Mean rail output at its terminals, signed. */
    OUTPUT("output_voltage_V", Unit.VOLT),
    /** Current the load takes from the rail. */
    LOAD_CURRENT("load_current_A", Unit.AMPERE),
    /** Output ripple, peak to peak, robust against single bad samples. */
    RIPPLE_PP("ripple_pp_V", Unit.VOLT),
    /** Output ripple, root mean square. */
    RIPPLE_RMS("ripple_rms_V", Unit.VOLT),
    /** Line voltage at the unit's inlet, root mean square. */
    LINE("line_voltage_V", Unit.VOLT),
    /** Line frequency. */
    LINE_FREQUENCY("line_frequency_Hz", Unit.HERTZ),
    /** Mean reservoir voltage, signed. */
    RAW("raw_voltage_V", Unit.VOLT),
    /** Reservoir ripple, peak to peak. */
    RAW_RIPPLE_PP("raw_ripple_pp_V", Unit.VOLT),
    /** Mean voltage at the pass stage's base. */
    BASE("base_voltage_V", Unit.VOLT),
    /** Mean voltage of the reference. */
    REFERENCE("reference_voltage_V", Unit.VOLT),
    /** Mean voltage of the sense tap. */
    SENSE_TAP("sense_tap_voltage_V", Unit.VOLT),
    /** Heat-sink temperature. */
    HEAT_SINK("heat_sink_C", Unit.CELSIUS),
    /** Current the unit takes from the line, root mean square. */
    LINE_CURRENT("line_current_A", Unit.AMPERE),
    /**
     * How long a change took: after a load step, an overload or line on, until the output was in its band for good;
     * after line off, until it left it.
     */
    TRANSIENT_TIME("transient_time_s", Unit.SECOND),
    /** Largest excursion of the output below its final value; while it rises, its largest fall back. */
    UNDERSHOOT("undershoot_V", Unit.VOLT),
    /** Largest excursion of the output above its final value. */
    OVERSHOOT("overshoot_V", Unit.VOLT),
    /** Frequency at which the output rings after a change. */
    RINGING("ringing_Hz", Unit.HERTZ),
    /** Phase of the line when something was done to it, from the rising zero before, in cycles. */
    LINE_PHASE("line_phase_cycles", Unit.RATIO),
    /** Time the unit has been under load since its burn-in began. */
    LOADED_TIME("time_under_load_s", Unit.SECOND);

    private final String column;
    private final Unit unit;

    Quantity(String column, Unit unit) {
        this.column = column;
        this.unit = unit;
    }

    /** Heading in CSV files, unit included. */
    public String column() {
        return column;
    }

    /** Unit of the reading. */
    public Unit unit() {
        return unit;
    }

    /** The quantity of that heading. */
    public static Optional<Quantity> ofColumn(String column) {
        return Arrays.stream(values())
                .filter(quantity -> quantity.column.equals(column))
                .findFirst();
    }
}

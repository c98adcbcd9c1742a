package railproof.run;

import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalInt;
import railproof.base.Missing;
import railproof.base.Reading;

/**
 * One finished point of a run.
 *
 * @param index 0-based, ascending over the whole run
 * @param section which procedure took it
 * @param rail the rail's name in the profile
 * @param asked what was asked for
 * @param elapsedS time since the start of the run, s
 * @param settled whether the readings had settled by measurement before it was taken
 * @param readings what was read; a quantity that was not attempted has no entry
 * @param waveform id of the capture taken with it
 * @param note anything a reader should know, empty if nothing; e.g. {@code collapsed}
 */
public record Point(
        int index,
        Section section,
        String rail,
        Setpoint asked,
        double elapsedS,
        boolean settled,
        Map<Quantity, Reading> readings,
        OptionalInt waveform,
        String note) {
    public Point {
        Map<Quantity, Reading> copy = new EnumMap<>(Quantity.class);
        copy.putAll(readings);
        readings = java.util.Collections.unmodifiableMap(copy);
    }

    /** The reading, or {@link Missing} if it was not attempted. */
    public Reading reading(Quantity quantity) {
        Reading reading = readings.get(quantity);
        return reading != null ? reading : new Missing(quantity.column() + " was not measured");
    }
}

package railproof.rig;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalDouble;
import railproof.run.Setpoint;

/**
 * What the bench does at this moment, for a display: as told to the instruments, and as last seen in passing. Not for
 * judging, and not on record.
 *
 * @param rail the rail that was last loaded or looked at; empty at the start
 * @param loads what the loads hold whose inputs are on, by rail
 * @param lineV line voltage asked for, V r.m.s.; 0 with the line off
 * @param outputV that rail's output at the last look, V; empty before the first
 */
public record Glance(String rail, Map<String, Setpoint> loads, double lineV, OptionalDouble outputV) {
    /** Nothing is on, nothing was seen. */
    public static final Glance DARK = new Glance("", Map.of(), 0, OptionalDouble.empty());

    public Glance {
        loads = Collections.unmodifiableMap(new LinkedHashMap<>(loads));
    }

    /** Whether any load's input is on. */
    public boolean loadOn() {
        return !loads.isEmpty();
    }

    /** Whether the line is on. */
    public boolean lineOn() {
        return lineV > 0;
    }
}

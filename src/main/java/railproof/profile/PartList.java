package railproof.profile;

import java.util.EnumMap;
import java.util.Map;

/**
 * Nominal part values of one rail with their tolerances.
 *
 * @param rectifier how it rectifies
 * @param values what is known of each part; those that not every supply has may be left out
 */
public record PartList(RectifierKind rectifier, Map<PartValue, Toleranced> values) {
    /**
     * A value as the circuit diagram has it.
     *
     * @param nominalDimensionless in SI units
     * @param toleranceRatio half width, relative; 0.05 is five percent; above zero
     */
    public record Toleranced(double nominalDimensionless, double toleranceRatio) {
        public Toleranced {
            if (!(nominalDimensionless > 0) || !(toleranceRatio > 0)) {
                throw new IllegalArgumentException("a part value and its tolerance must be above zero, got "
                        + nominalDimensionless + " and " + toleranceRatio);
            }
        }
    }

    public PartList {
        Map<PartValue, Toleranced> copy = new EnumMap<>(PartValue.class);
        copy.putAll(values);
        for (PartValue value : PartValue.values()) {
            if (value.always() && !copy.containsKey(value)) {
                throw new IllegalArgumentException("a list of parts needs " + value.key());
            }
        }
        values = java.util.Collections.unmodifiableMap(copy);
    }

    /** The nominal value, SI. */
    public double nominal(PartValue value) {
        return of(value).nominalDimensionless();
    }

    /** Value and tolerance. */
    public Toleranced of(PartValue value) {
        Toleranced found = values.get(value);
        if (found == null) {
            throw new IllegalArgumentException("the list of parts has no " + value.key());
        }
        return found;
    }

    /** Whether a driver stands before the pass transistor. */
    public boolean hasDriver() {
        return values.containsKey(PartValue.DRIVER_GAIN);
    }

    /** Whether the limit has a foldback divider. */
    public boolean foldsBack() {
        return values.containsKey(PartValue.FOLDBACK_UPPER) && values.containsKey(PartValue.FOLDBACK_LOWER);
    }
}

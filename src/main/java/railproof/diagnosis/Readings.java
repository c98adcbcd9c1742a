package railproof.diagnosis;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import railproof.base.Measured;

/**
 * What was read of one rail, upright: a negative rail's voltages with their signs turned. What was not read is not there.
 *
 * @param values by what was read
 */
public record Readings(Map<Feature, Measured> values) {
    public Readings {
        values = Collections.unmodifiableMap(new LinkedHashMap<>(values));
    }

    /** Nothing read yet. */
    public static Readings none() {
        return new Readings(Map.of());
    }

    /** These and one more; it replaces an earlier reading of the same. */
    public Readings with(Feature feature, Measured value) {
        Map<Feature, Measured> more = new LinkedHashMap<>(values);
        more.put(feature, value);
        return new Readings(more);
    }

    /** The reading, if there is one. */
    public Optional<Measured> of(Sight sight, Condition at) {
        return Optional.ofNullable(values.get(new Feature(sight, at)));
    }

    /** Only those of some nodes. */
    public Readings only(Set<ProbeNode> nodes) {
        Map<Feature, Measured> kept = new LinkedHashMap<>();
        values.forEach((feature, value) -> {
            if (nodes.contains(feature.sight().node())) {
                kept.put(feature, value);
            }
        });
        return new Readings(kept);
    }

    /** The nodes read so far. */
    public Set<ProbeNode> nodes() {
        return values.keySet().stream().map(feature -> feature.sight().node()).collect(Collectors.toSet());
    }
}

package railproof.diagnosis;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * One thing that can be read of a rail.
 *
 * @param sight what
 * @param at under which condition
 */
public record Feature(Sight sight, Condition at) {
    /** All features, in the order of every vector of readings. */
    public static final List<Feature> ALL = all();

    private static final Map<Feature, Integer> INDEX = places();

    private static List<Feature> all() {
        List<Feature> all = new ArrayList<>();
        for (Condition at : Condition.values()) {
            for (Sight sight : Sight.values()) {
                if (taken(sight, at)) {
                    all.add(new Feature(sight, at));
                }
            }
        }
        return List.copyOf(all);
    }

    private static boolean taken(Sight sight, Condition at) {
        boolean loaded = at == Condition.HALF_LOAD || at == Condition.FULL_LOAD;
        return switch (sight) {
            case OUTPUT, RAW, REFERENCE -> true;
            case HEAT_SINK -> at == Condition.WARM;
            case OUTPUT_RIPPLE, RAW_RIPPLE, BASE, SENSE_TAP -> at != Condition.WARM;
            case OUTPUT_LINE, RAW_LINE, RAW_FALL -> loaded;
            case OUTPUT_REST, OUTPUT_FAST -> loaded || at == Condition.NO_LOAD;
            case OUTPUT_DIP, LIMIT, SHORT, UNDERSHOOT, LINE -> at == Condition.FULL_LOAD;
        };
    }

    private static Map<Feature, Integer> places() {
        Map<Feature, Integer> index = new HashMap<>();
        for (Feature feature : ALL) {
            index.put(feature, index.size());
        }
        return index;
    }

    /** Its place in {@link #ALL}. */
    int index() {
        Integer index = INDEX.get(this);
        if (index == null) {
            throw new IllegalStateException("no such feature: " + this);
        }
        return index;
    }

    /** The feature, if that sight is compared under that condition. */
    public static Optional<Feature> of(Sight sight, Condition at) {
        Feature feature = new Feature(sight, at);
        return INDEX.containsKey(feature) ? Optional.of(feature) : Optional.empty();
    }

    /** In a sentence: {@code raw ripple p-p at full load}. */
    public String words() {
        return switch (sight) {
            case LIMIT, SHORT, UNDERSHOOT, LINE -> sight.words();
            default -> sight.words() + " " + at.words();
        };
    }
}

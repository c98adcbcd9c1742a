package railproof.profile;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * What one type of supply should do.
 *
 * @param id short name, as in the file name
 * @param title one line for people
 * @param rails at least one, in the order they are tested
 * @param line the mains it is made for
 * @param plan how it is exercised
 * @param rule the decision rule, agreed before measuring
 * @param cautions what the technician must know before touching this type
 * @param faultWeights how often each part is the cause of trouble, against a part of weight 1; a part that is not named
 *     keeps its usual weight; only a diagnosis asks for them
 */
public record Profile(
        String id,
        String title,
        List<Rail> rails,
        LineRating line,
        Plan plan,
        DecisionRule rule,
        List<String> cautions,
        Map<UnitPart, Double> faultWeights) {
    public Profile {
        if (rails.isEmpty()) {
            throw new IllegalArgumentException("a profile has at least one rail");
        }
        rails = List.copyOf(rails);
        cautions = List.copyOf(cautions);
        Map<UnitPart, Double> weights = new EnumMap<>(UnitPart.class);
        weights.putAll(faultWeights);
        faultWeights = Collections.unmodifiableMap(weights);
    }

    /** The rail of that name. */
    public Rail rail(String name) {
        return rails.stream()
                .filter(rail -> rail.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no rail " + name + " in profile " + id));
    }
}

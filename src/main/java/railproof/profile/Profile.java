package railproof.profile;

import java.util.List;

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
 */
public record Profile(
        String id,
        String title,
        List<Rail> rails,
        LineRating line,
        Plan plan,
        DecisionRule rule,
        List<String> cautions) {
    public Profile {
        if (rails.isEmpty()) {
            throw new IllegalArgumentException("a profile has at least one rail");
        }
        rails = List.copyOf(rails);
        cautions = List.copyOf(cautions);
    }

    /** The rail of that name. */
    public Rail rail(String name) {
        return rails.stream()
                .filter(rail -> rail.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no rail " + name + " in profile " + id));
    }
}

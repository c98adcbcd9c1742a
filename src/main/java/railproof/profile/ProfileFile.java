package railproof.profile;

import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import railproof.base.BadFileException;
import railproof.toml.Labels;
import railproof.toml.TextFile;
import railproof.toml.TomlDocument;
import railproof.toml.TomlSection;

/**
 * A profile with the text it came from.
 *
 * <p>Thread: immutable; reading is stateless.
 *
 * @param profile what the file says
 * @param source its text and digest
 */
public record ProfileFile(Profile profile, SourceText source) {
    private static final int MAX_RAILS = 8;
    private static final int MAX_CAUTIONS = 20;
    private static final Map<String, DecisionRule> RULES = Labels.of(DecisionRule.values());

    /**
     * Reads a profile file.
     *
     * @throws BadFileException with everything that is wrong with it
     */
    public static ProfileFile read(Path file) throws BadFileException {
        return parse(file.toString(), TextFile.read(file));
    }

    /**
     * Reads a profile that is kept as it was, as every run keeps its own.
     *
     * @throws BadFileException with everything that is wrong with it
     */
    public static ProfileFile parse(SourceText kept) throws BadFileException {
        return parse(kept.name(), kept.text());
    }

    /**
     * Reads a profile from its text.
     *
     * @param name how the text is called in messages
     * @throws BadFileException with everything that is wrong with it
     */
    public static ProfileFile parse(String name, String text) throws BadFileException {
        TomlDocument document = TomlDocument.parse(name, text);
        TomlSection root = document.root();
        String id = root.text("id");
        if (root.good("id") && !id.matches("[a-z0-9][a-z0-9.-]{0,59}")) {
            root.problem("id", "may have small letters, digits, '-' and '.' only, at most 60; found \"" + id + "\"");
        }
        String title = root.text("title");
        DecisionRule rule = root.choice("decision_rule", RULES);
        List<String> cautions = root.texts("cautions", MAX_CAUTIONS);
        LineRating line = root.table("line", true).map(ProfileFile::line).orElse(new LineRating(230, 207, 253, 50));
        Plan plan = PlanReader.plan(root.table("plan", false));
        List<TomlSection> sections = root.tables("rails", 1, MAX_RAILS);
        List<Rail> rails = sections.stream()
                .map(section -> RailReader.rail(section, plan.program()))
                .toList();
        requireUniqueNames(sections, rails);
        requireCautions(root, rails, cautions);
        Map<UnitPart, Double> weights = PartListReader.weights(root.table("diagnosis", false));
        document.finish();
        return new ProfileFile(
                new Profile(id, title, rails, line, plan, rule, cautions, weights), SourceText.of(name, text));
    }

    private static LineRating line(TomlSection section) {
        double nominalV = section.number("nominal_V", 24, 440);
        double lowV = section.number("low_V", 20, 500);
        double highV = section.number("high_V", 20, 500);
        double frequencyHz = section.number("frequency_Hz", 45, 66);
        if (section.good("low_V", "nominal_V") && lowV > nominalV) {
            section.problem(
                    "low_V", RailReader.shown(lowV) + " is above the nominal line, " + RailReader.shown(nominalV));
        }
        if (section.good("high_V", "nominal_V") && highV < nominalV) {
            section.problem(
                    "high_V", RailReader.shown(highV) + " is below the nominal line, " + RailReader.shown(nominalV));
        }
        return new LineRating(nominalV, lowV, highV, frequencyHz);
    }

    private static void requireUniqueNames(List<TomlSection> sections, List<Rail> rails) {
        Set<String> names = new HashSet<>();
        for (int i = 0; i < Math.min(rails.size(), sections.size()); i++) {
            if (sections.get(i).good("name") && !names.add(rails.get(i).name())) {
                sections.get(i)
                        .problem(
                                "name",
                                "another rail is called \"" + rails.get(i).name() + "\" already");
            }
        }
    }

    /** A rail above the limit of safe extra-low voltage may not go unannounced. */
    private static void requireCautions(TomlSection root, List<Rail> rails, List<String> cautions) {
        String hazardous =
                rails.stream().filter(Rail::hazardousLive).map(Rail::name).collect(Collectors.joining(", "));
        if (!hazardous.isEmpty() && cautions.isEmpty() && root.good("cautions")) {
            root.problem(
                    "cautions",
                    "at least one caution is wanted, because " + hazardous
                            + " can exceed 60 V d.c. (over_voltage_V): say what the technician must know");
        }
    }
}

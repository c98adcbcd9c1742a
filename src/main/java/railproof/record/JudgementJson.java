package railproof.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.base.Reading;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.SectionSummary;
import railproof.judge.Verdict;
import railproof.profile.Band;
import railproof.profile.DecisionRule;
import railproof.run.Section;

/** Judgements as JSON, for {@code verdict.json} and for programs that read our output. All values in SI units. */
public final class JudgementJson {
    private static final int VERSION = 1;
    private static final String RATIO = "test_uncertainty_ratio";

    private JudgementJson() {}

    /** Indented JSON, ending with a line end. */
    public static String write(Judgement judgement) {
        return Json.page(node(judgement));
    }

    /**
     * Reads back {@link #write}.
     *
     * @param file how problems name the file
     * @throws BadFileException with everything that is wrong
     */
    public static Judgement read(String file, String text) throws BadFileException {
        List<Problem> problems = new ArrayList<>();
        Optional<Judgement> judgement = Json.parse(file, 1, text, problems).map(JudgementJson::judgement);
        if (judgement.isEmpty() || !problems.isEmpty()) {
            throw new BadFileException(problems);
        }
        return judgement.get();
    }

    static ObjectNode node(Judgement judgement) {
        ObjectNode json = Json.object()
                .put("format_version", VERSION)
                .put("profile_id", judgement.profileId())
                .put("profile_sha256", judgement.profileSha256())
                .put("rule", EventJson.word(judgement.rule()))
                .put("overall", EventJson.word(judgement.overall()));
        ArrayNode checks = json.putArray("checks");
        judgement.checks().forEach(check -> checks.add(node(check)));
        ArrayNode sections = json.putArray("sections");
        judgement.sections().forEach(section -> sections.add(node(section)));
        return json;
    }

    private static ObjectNode node(SectionSummary section) {
        ObjectNode json = Json.object()
                .put("section", section.section().label())
                .put("rail", section.rail())
                .put("points", section.points());
        if (section.points() > 0) {
            json.put("from_s", section.fromS()).put("to_s", section.toS());
        }
        ArrayNode checks = json.putArray("checks");
        section.checks().forEach(checks::add);
        section.verdict().ifPresent(verdict -> json.put("verdict", EventJson.word(verdict)));
        return section.reason().isEmpty() ? json : json.put("reason", section.reason());
    }

    private static ObjectNode node(Check check) {
        ObjectNode json = Json.object()
                .put("id", check.id())
                .put("title", check.title())
                .put("rail", check.rail())
                .put("verdict", EventJson.word(check.verdict()))
                .put("unit", ReadingJson.name(check.unit()));
        json.set("value", ReadingJson.of(check.value()));
        json.put("expanded_u", check.expandedU()).put("coverage_factor", check.coverageDimensionless());
        // JSON has no infinity: an open end is left out
        if (!Double.isInfinite(check.limit().low())) {
            json.put("limit_low", check.limit().low());
        }
        if (!Double.isInfinite(check.limit().high())) {
            json.put("limit_high", check.limit().high());
        }
        check.testUncertaintyRatio().ifPresent(ratio -> json.put(RATIO, ratio));
        return json.put("detail", check.detail());
    }

    private static Judgement judgement(JsonView json) {
        if (json.count("format_version") != VERSION) {
            json.bad("format_version", "must be " + VERSION + "; the file may come from a later version");
        }
        Judgement judgement = new Judgement(
                json.text("profile_id"),
                json.text("profile_sha256"),
                EventJson.constant(json, "rule", DecisionRule.values(), DecisionRule.NON_BINARY),
                json.objects("checks").stream().map(JudgementJson::check).toList(),
                json.has("sections")
                        ? json.objects("sections").stream()
                                .map(JudgementJson::section)
                                .toList()
                        : List.of());
        Verdict overall = EventJson.constant(json, "overall", Verdict.values(), judgement.overall());
        if (overall != judgement.overall()) {
            json.bad("overall", "does not follow from the checks: they give " + EventJson.word(judgement.overall()));
        }
        return judgement;
    }

    private static SectionSummary section(JsonView json) {
        boolean verdict = json.has("verdict");
        return new SectionSummary(
                json.parsed("section", Section::ofLabel, "a section such as load-sweep", Section.NO_LOAD),
                json.text("rail"),
                json.count("points"),
                json.numberOr("from_s", 0),
                json.numberOr("to_s", 0),
                json.texts("checks"),
                verdict
                        ? Optional.of(EventJson.constant(json, "verdict", Verdict.values(), Verdict.NOT_JUDGED))
                        : Optional.empty(),
                json.has("reason") ? json.text("reason") : "");
    }

    private static Check check(JsonView json) {
        Reading value = ReadingJson.read(json.object("value"));
        double low = json.numberOr("limit_low", Double.NEGATIVE_INFINITY);
        double high = json.numberOr("limit_high", Double.POSITIVE_INFINITY);
        return new Check(
                json.text("id"),
                json.text("title"),
                json.text("rail"),
                value,
                json.number("expanded_u"),
                json.number("coverage_factor"),
                json.built(() -> new Band(low, high), Band.atLeast(0)),
                ReadingJson.unit(json, "unit"),
                EventJson.constant(json, "verdict", Verdict.values(), Verdict.NOT_JUDGED),
                json.has(RATIO) ? OptionalDouble.of(json.number(RATIO)) : OptionalDouble.empty(),
                json.text("detail"));
    }
}

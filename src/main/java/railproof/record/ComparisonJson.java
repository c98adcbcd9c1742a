package railproof.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Optional;
import railproof.judge.Check;
import railproof.judge.Comparison;

/** Comparisons as JSON, for programs that read our output. All values in SI units. */
public final class ComparisonJson {
    private ComparisonJson() {}

    /** Indented JSON, ending with a line end. */
    public static String write(Comparison comparison) {
        ObjectNode json = Json.object().put("same_rig", comparison.sameRig());
        ArrayNode checks = json.putArray("checks");
        for (Comparison.CheckRow row : comparison.checks()) {
            ObjectNode check = checks.addObject()
                    .put("id", row.id())
                    .put("title", row.title())
                    .put("rail", row.rail())
                    .put("verdict_changed", row.verdictChanged())
                    .put("fail_to_pass", row.failToPass())
                    .put("pass_to_fail", row.passToFail());
            side(check, "before", row.before());
            side(check, "after", row.after());
            check.set("change", change(row.change()));
        }
        ArrayNode points = json.putArray("points");
        for (Comparison.PointRow row : comparison.points()) {
            ObjectNode point = points.addObject()
                    .put("rail", row.rail())
                    .put("asked_mode", row.asked().mode())
                    .put("asked_level", row.asked().level())
                    .put("asked_line_V", row.asked().lineV())
                    .put("quantity", row.quantity().column());
            point.set("before", ReadingJson.of(row.before()));
            point.set("after", ReadingJson.of(row.after()));
            point.set("change", change(row.change()));
        }
        return Json.page(json);
    }

    private static void side(ObjectNode json, String key, Optional<Check> check) {
        check.ifPresent(c -> {
            ObjectNode side = json.putObject(key).put("verdict", EventJson.word(c.verdict()));
            side.set("value", ReadingJson.of(c.value()));
            side.put("expanded_u", c.expandedU());
        });
    }

    private static ObjectNode change(Comparison.Change change) {
        ObjectNode json = ReadingJson.of(change.difference());
        change.difference().measured().ifPresent(d -> json.put("expanded_u", change.expandedU())
                .put("coverage_factor", change.coverageDimensionless())
                .put("significant", change.significant()));
        return json;
    }
}

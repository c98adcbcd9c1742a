package railproof.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Arrays;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;

/** Readings as JSON. Units as their symbols; infinite degrees of freedom and a lead drop of
 * nothing are left out. */
final class ReadingJson {
    private ReadingJson() {}

    static ObjectNode of(Reading reading) {
        ObjectNode json = Json.object();
        if (reading instanceof Missing missing) {
            json.put("missing", missing.reason());
        }
        if (reading instanceof Measured measured) {
            json.put("value", measured.value())
                    .put("unit", name(measured.unit()))
                    .put("u_var", measured.randomU())
                    .put("u_shared", measured.sharedU());
            if (measured.leadU() > 0) {
                json.put("u_lead", measured.leadU());
            }
            if (!Double.isInfinite(measured.randomDof())) {
                json.put("dof", measured.randomDof());
            }
        }
        return json;
    }

    static Reading read(JsonView json) {
        Missing fallback = new Missing("could not be read");
        if (json.has("missing")) {
            return json.built(() -> new Missing(json.text("missing")), fallback);
        }
        double value = json.number("value");
        double varying = json.number("u_var");
        double shared = json.number("u_shared");
        double lead = json.numberOr("u_lead", 0);
        double dof = json.numberOr("dof", Double.POSITIVE_INFINITY);
        Unit unit = unit(json, "unit");
        return json.<Reading>built(() -> new Measured(value, varying, shared, lead, dof, unit), fallback);
    }

    /** A unit's symbol; a count has none, and must not be taken for a ratio. */
    static String name(Unit unit) {
        return unit == Unit.COUNT ? "count" : unit.symbol();
    }

    static Unit unit(JsonView json, String key) {
        return json.parsed(
                key,
                text -> Arrays.stream(Unit.values())
                        .filter(unit -> name(unit).equals(text))
                        .findFirst(),
                "a unit symbol such as V, A, s",
                Unit.RATIO);
    }
}

package railproof.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Map;
import railproof.diagnosis.Diagnosis;
import railproof.diagnosis.Evidence;
import railproof.diagnosis.PartFit;
import railproof.profile.Rail;

/** Diagnoses as JSON, for programs that read our output. All values in SI units, upright for negative rails. */
public final class DiagnosisJson {
    private static final int VERSION = 1;

    private DiagnosisJson() {}

    /** One rail's diagnosis with its fitted parts. */
    public record OfRail(Diagnosis diagnosis, PartFit.Result fitted) {}

    /** Indented JSON, ending with a line end. */
    public static String write(String subject, Map<Rail, OfRail> rails) {
        ObjectNode json = Json.object().put("format_version", VERSION).put("of", subject);
        ArrayNode list = json.putArray("rails");
        rails.forEach((rail, each) -> list.add(rail(rail, each)));
        return Json.page(json);
    }

    private static ObjectNode rail(Rail rail, OfRail each) {
        Diagnosis diagnosis = each.diagnosis();
        ObjectNode json = Json.object()
                .put("rail", rail.name())
                .put("part_values_known", rail.parts().isPresent());
        json.put("probability_sound", diagnosis.soundRatio());
        json.put("unexplained", diagnosis.unexplained());
        ArrayNode readings = json.putArray("readings");
        diagnosis.readings().values().forEach((feature, value) -> readings.addObject()
                .put("quantity", feature.sight().label())
                .put("condition", feature.at().label())
                .put("value", value.value())
                .put("standard_u", value.standardU())
                .put("unit", feature.sight().unit().symbol()));
        ArrayNode stages = json.putArray("stages");
        diagnosis.stages().forEach(stage -> stages.addObject()
                .put("stage", EventJson.word(stage.stage()))
                .put("probability", stage.probabilityRatio()));
        ArrayNode suspects = json.putArray("suspects");
        diagnosis.suspects().forEach(suspect -> {
            ObjectNode node = suspects.addObject()
                    .put("stage", EventJson.word(suspect.part().stage()))
                    .put("part", suspect.part().label())
                    .put("fault", suspect.fault().label())
                    .put("probability", suspect.probabilityRatio())
                    .put("times_as_probable_as_in_a_sound_unit", suspect.timesSoundRatio());
            ArrayNode evidence = node.putArray("evidence");
            suspect.evidence().forEach(e -> evidence.add(evidence(e)));
        });
        ArrayNode alike = json.putArray("not_told_apart");
        diagnosis.alike().forEach(suspect -> alike.add(suspect.part().label()));
        ArrayNode next = json.putArray("next_probes");
        diagnosis.next().forEach(advice -> next.addObject()
                .put("node", EventJson.word(advice.node()))
                .put("expected_bits", advice.bitsDimensionless()));
        ArrayNode fitted = json.putArray("fitted_parts");
        each.fitted().parts().forEach(part -> fitted.addObject()
                .put("part", part.part().key())
                .put("value", part.fitted().value())
                .put("standard_u", part.fitted().standardU())
                .put("nominal", part.nominalDimensionless())
                .put("tolerance", part.toleranceRatio())
                .put("outside", part.outside()));
        each.fitted().loopGain().ifPresent(gain -> json.putObject("fitted_loop_gain")
                .put("value", gain.fitted().value())
                .put("standard_u", gain.fitted().standardU())
                .put("nominal", gain.nominalDimensionless()));
        json.put("fit_refused", each.fitted().refused());
        return json;
    }

    private static ObjectNode evidence(Evidence e) {
        return Json.object()
                .put("speaks", e.speaksFor() ? "for" : "against")
                .put("beside_the_others", e.besideOthers())
                .put("quantity", e.feature().sight().label())
                .put("condition", e.feature().at().label())
                .put("value", e.value().value())
                .put("sound_low", e.sound().lowDimensionless())
                .put("sound_high", e.sound().highDimensionless())
                .put("fault_low", e.fault().lowDimensionless())
                .put("fault_high", e.fault().highDimensionless());
    }
}

package railproof.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import railproof.archive.ArchivedRun;
import railproof.archive.Capability;
import railproof.archive.TypeStatistics;

/** Archived runs and their statistics for scripts. Pure. */
final class HistoryJson {
    private HistoryJson() {}

    static String runs(List<ArchivedRun> runs) {
        ArrayNode list = JsonNodeFactory.instance.arrayNode();
        for (ArchivedRun run : runs) {
            list.addObject()
                    .put("run_id", run.runId())
                    .put("unit_serial", run.unitSerial())
                    .put("type", run.profileId())
                    .put("stage", run.stage())
                    .put("kind", run.kind())
                    .put("started_at", run.startedAt().toString())
                    .put("ended_at", run.endedAt().map(Instant::toString).orElse(null))
                    .put("operator", run.operator())
                    .put("rig", run.rig())
                    .put("software_version", run.softwareVersion())
                    .put("simulated", run.simulated())
                    .put("outcome", run.outcome())
                    .put("cause", run.cause())
                    .put("safe_state", run.safeState())
                    .put("verdict", run.verdict())
                    .put("signed_off_by", run.signedBy())
                    .put("signed_off_at", run.signedAt().map(Instant::toString).orElse(null))
                    .put("training", run.training())
                    .put("folder", run.folder());
        }
        return ListJson.text(list);
    }

    static String statistics(List<TypeStatistics> types) {
        ArrayNode list = JsonNodeFactory.instance.arrayNode();
        for (TypeStatistics type : types) {
            ObjectNode node = list.addObject()
                    .put("type", type.profileId())
                    .put("runs", type.runs())
                    .put("units", type.units());
            type.firstPass().ifPresent(share -> node.putObject("first_pass")
                    .put("passed", share.part())
                    .put("conditional", type.firstConditional())
                    .put("units", share.whole())
                    .put("share", share.shareRatio())
                    .put("low_95", share.lowRatio())
                    .put("high_95", share.highRatio()));
            ObjectNode ends = node.putObject("ended_early");
            type.otherEnds().forEach(ends::put);
            ArrayNode checks = node.putArray("checks");
            for (TypeStatistics.CheckStatistics check : type.checks()) {
                ObjectNode one = checks.addObject()
                        .put("id", check.checkId())
                        .put("rail", check.rail())
                        .put("title", check.title())
                        .put("unit", check.unit());
                number(one, "limit_low", check.lowDimensionless());
                number(one, "limit_high", check.highDimensionless());
                one.put("units_with_other_limits", check.otherLimits());
                check.asLeft().ifPresent(c -> one.set("as_left", capability(c)));
                check.shift().ifPresent(c -> one.set("shift", capability(c)));
            }
            ArrayNode causes = node.putArray("causes");
            type.causes().forEach(cause -> causes.addObject()
                    .put("id", cause.checkId())
                    .put("rail", cause.rail())
                    .put("title", cause.title())
                    .put("failed_as_found", cause.asFound())
                    .put("failed_as_left", cause.asLeft()));
        }
        return ListJson.text(list);
    }

    private static ObjectNode capability(Capability capability) {
        ObjectNode node = JsonNodeFactory.instance
                .objectNode()
                .put("units", capability.count())
                .put("mean", capability.meanDimensionless())
                .put("standard_deviation", capability.standardDeviationDimensionless());
        number(node, "ppk", capability.ppk());
        number(node, "ppk_low_95", capability.ppkLow());
        return node;
    }

    private static void number(ObjectNode node, String key, Optional<Double> value) {
        value.ifPresent(number -> node.put(key, number.doubleValue()));
    }
}

package railproof.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.judge.Judgement;
import railproof.judge.Observations;
import railproof.profile.SourceText;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunHeader;
import railproof.run.Stage;

/** Runs as JSON, for {@code run.json} and for programs that read our output. All values in SI units. */
public final class RunJson {
    static final String FILE = "run.json";
    static final String PROFILE_FILE = "profile.toml";
    static final String RIG_FILE = "rig.toml";
    static final String CALIBRATION_FILE = "calibration.toml";

    private static final String FORMAT = "railproof run";
    private static final String VERSION_KEY = "format_version";

    private RunJson() {}

    /**
     * What came of a run, in short: header, outcome, counts, and the judgement if there is one. Indented JSON, ending
     * with a line end.
     */
    public static String result(RunData run, Optional<Judgement> judgement) {
        ObjectNode json = header(run.header());
        json.set("outcome", EventJson.of(run.outcome()));
        json.put("points", run.points().size()).put("waveforms", run.waveforms().size());
        ArrayNode seen = json.putArray("observations");
        Observations.of(run).forEach(one -> seen.addObject()
                .put("rail", one.rail())
                .put("title", one.title())
                .put("words", one.words()));
        judgement.ifPresent(j -> json.set("judgement", JudgementJson.node(j)));
        return Json.page(json);
    }

    /** One event on one line, without a line end; points with their readings, captures without their samples. */
    public static String event(RunEvent event) {
        return Json.line(EventJson.of(event));
    }

    static ObjectNode header(RunHeader header) {
        ObjectNode json = Json.object()
                .put("format", FORMAT)
                .put(VERSION_KEY, RunFormat.CURRENT.version())
                .put("run_id", header.runId())
                .put("unit_serial", header.unitSerial())
                .put("stage", header.stage().label())
                .put("operator", header.operator())
                .put("started_at", header.startedAt().toString())
                .put("software_version", header.softwareVersion())
                .put("simulated", header.simulated())
                .put("simulated_unit", header.simulatedUnit());
        json.set("instruments", Json.texts(header.instruments()));
        json.set("profile", source(PROFILE_FILE, header.profile()));
        json.set("rig", source(RIG_FILE, header.rig()));
        json.set("calibration", source(CALIBRATION_FILE, header.calibration()));
        return json;
    }

    private static ObjectNode source(String file, SourceText source) {
        return Json.object().put("file", file).put("name", source.name()).put("sha256", source.sha256());
    }

    /** The snapshots as found in the folder, by file name. */
    interface Snapshots {
        /** The text; empty with a problem noted if it cannot be read. */
        Optional<String> text(String file);
    }

    /** What {@code run.json} says: of the run, and of how the other files are to be read. */
    record Head(RunHeader header, RunFormat format) {}

    static Head read(JsonView json, Snapshots snapshots) {
        if (!json.text("format").equals(FORMAT)) {
            json.bad("format", "must be \"" + FORMAT + "\"");
        }
        RunFormat format = format(json);
        List<SourceText> sources = new ArrayList<>();
        sources.add(source(json, "profile", PROFILE_FILE, snapshots));
        sources.add(source(json, "rig", RIG_FILE, snapshots));
        sources.add(source(json, "calibration", CALIBRATION_FILE, snapshots));
        RunHeader header = new RunHeader(
                json.text("run_id"),
                json.text("unit_serial"),
                json.parsed("stage", Stage::ofLabel, "as-found or as-left", Stage.AS_FOUND),
                json.text("operator"),
                EventJson.instant(json, "started_at"),
                json.text("software_version"),
                sources.get(0),
                sources.get(1),
                sources.get(2),
                json.flag("simulated"),
                json.text("simulated_unit"),
                json.texts("instruments"));
        return new Head(header, format);
    }

    /** How the run's files are written; what is no format this program knows is a problem. */
    private static RunFormat format(JsonView json) {
        int version = json.count(VERSION_KEY);
        return RunFormat.ofVersion(version).orElseGet(() -> {
            json.bad(
                    VERSION_KEY,
                    "is " + version + "; this program reads " + RunFormat.versions()
                            + ", the run may come from a later version");
            return RunFormat.CURRENT;
        });
    }

    private static SourceText source(JsonView json, String key, String file, Snapshots snapshots) {
        JsonView source = json.object(key);
        String sha256 = source.text("sha256");
        Optional<String> text = snapshots.text(file);
        if (text.isPresent() && !Digests.fits(text.get(), sha256)) {
            source.bad(
                    "sha256",
                    "the file " + file + " was changed after the run: its digest is "
                            + Digests.sha256(text.get().getBytes(StandardCharsets.UTF_8)) + ", recorded is " + sha256);
        }
        return new SourceText(source.text("name"), text.orElse(""), sha256);
    }
}

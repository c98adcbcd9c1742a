package railproof.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.judge.SignOff;
import railproof.judge.Verdict;

/** Sign-offs as JSON: {@code sign-off.json} of a run folder. */
public final class SignOffJson {
    private static final String FORMAT = "railproof sign-off";
    private static final int VERSION = 1;

    private SignOffJson() {}

    /**
     * The file's bytes.
     *
     * @param recordSha256 digest of what was measured and judged, which the name is put to
     */
    public static byte[] write(String runId, String recordSha256, SignOff signOff) {
        ObjectNode json = Json.object()
                .put("format", FORMAT)
                .put("format_version", VERSION)
                .put("run_id", runId)
                .put("record_sha256", recordSha256)
                .put("by", signOff.by())
                .put("at", signOff.at().toString());
        json.set("checked", Json.texts(signOff.checked()));
        json.put("verdict", EventJson.word(signOff.verdict()))
                .put("reason", signOff.reason())
                .put("training", signOff.training());
        return Json.page(json).getBytes(StandardCharsets.UTF_8);
    }

    /**
     * The sign-off of a run folder; empty if there is none. Whether it counts is for its seal to say.
     *
     * @throws BadFileException with everything that is wrong
     */
    public static Optional<SignOff> of(Path folder) throws BadFileException {
        Path file = folder.resolve(RunFolder.SIGN_OFF_FILE);
        List<Problem> problems = new ArrayList<>();
        try {
            String text = Utf8.decode(file.toString(), Files.readAllBytes(file));
            Optional<SignOff> read =
                    Json.parse(file.toString(), 1, text, problems).map(SignOffJson::signOff);
            if (!problems.isEmpty()) {
                throw new BadFileException(problems);
            }
            return read;
        } catch (NoSuchFileException e) {
            return Optional.empty();
        } catch (IOException e) {
            throw new BadFileException(List.of(new Problem(file.toString(), 0, 0, "", "cannot be read: " + e)));
        }
    }

    private static SignOff signOff(JsonView json) {
        if (!json.text("format").equals(FORMAT) || json.count("format_version") != VERSION) {
            json.bad("format", "must be \"" + FORMAT + "\", format_version " + VERSION);
        }
        return new SignOff(
                json.text("by"),
                json.texts("checked"),
                EventJson.instant(json, "at"),
                json.text("reason"),
                json.flag("training"),
                EventJson.constant(json, "verdict", Verdict.values(), Verdict.NOT_JUDGED));
    }
}

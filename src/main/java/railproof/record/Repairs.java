package railproof.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.UnitPart;

/**
 * Repairs that confirmed a diagnosis: {@code repair.json} in the run folder says which part it was. Later diagnoses of the
 * same type of supply start from how often each part was it.
 */
public final class Repairs {
    /** The file in a run folder. */
    public static final String FILE = "repair.json";

    private static final int VERSION = 1;

    private Repairs() {}

    /**
     * What was found to be the cause, as {@link #FILE} says it.
     *
     * @param profileId the type of supply
     */
    public static String text(String profileId, UnitPart part) {
        ObjectNode json = Json.object()
                .put("format_version", VERSION)
                .put("profile_id", profileId)
                .put("part", part.label());
        return Json.page(json);
    }

    /**
     * How often each part was the cause in units of a type, over all runs of a data directory.
     *
     * @throws BadFileException with every file that is not as written
     */
    public static Map<UnitPart, Integer> confirmed(Path dataDirectory, String profileId) throws BadFileException {
        Map<UnitPart, Integer> counts = new EnumMap<>(UnitPart.class);
        List<Problem> problems = new ArrayList<>();
        try {
            if (Files.isDirectory(dataDirectory)) {
                for (Path run : RunFolder.runs(dataDirectory)) {
                    Path file = run.resolve(FILE);
                    if (Files.isRegularFile(file)) {
                        read(file, profileId, problems).ifPresent(part -> counts.merge(part, 1, Integer::sum));
                    }
                }
            }
        } catch (IOException e) {
            problems.add(new Problem(dataDirectory.toString(), 0, 0, "", "cannot be read: " + e));
        }
        if (!problems.isEmpty()) {
            throw new BadFileException(problems);
        }
        return counts;
    }

    private static Optional<UnitPart> read(Path file, String profileId, List<Problem> problems) throws IOException {
        String name = file.toString();
        try {
            List<Problem> found = new ArrayList<>();
            Optional<JsonView> json = Json.parse(name, 1, Utf8.decode(name, Files.readAllBytes(file)), found);
            Optional<UnitPart> part = json.filter(view -> {
                        if (view.count("format_version") != VERSION) {
                            view.bad("format_version", "must be " + VERSION);
                        }
                        return view.text("profile_id").equals(profileId);
                    })
                    .map(view -> view.parsed("part", UnitPart::ofLabel, "a part's label", UnitPart.LINE));
            problems.addAll(found);
            return found.isEmpty() ? part : Optional.empty();
        } catch (BadFileException e) {
            problems.addAll(e.problems());
            return Optional.empty();
        }
    }
}

package railproof.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.judge.Judgement;
import railproof.judge.SignOff;
import railproof.run.RunEvent.RunEnded;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;

/**
 * A run without its readings: what an archive keeps of it. Much faster to read than the whole.
 *
 * @param header what it is about
 * @param headerSha256 digest of {@code run.json}, which no two runs share
 * @param endedAt wall time of the end; empty if it has none
 * @param outcome how it ended
 * @param judgement its verdict; empty if it has none
 * @param signOff its sign-off; empty if it has none
 */
public record RunSummary(
        RunHeader header,
        String headerSha256,
        Optional<Instant> endedAt,
        RunOutcome outcome,
        Optional<Judgement> judgement,
        Optional<SignOff> signOff) {

    /**
     * Reads it.
     *
     * @throws BadFileException with everything that is wrong
     */
    public static RunSummary of(Path folder) throws BadFileException {
        List<Problem> problems = new ArrayList<>();
        byte[] headerBytes = bytes(folder.resolve(RunJson.FILE));
        Optional<RunHeader> header = Json.parse(
                        place(folder, RunJson.FILE), 1, Utf8.decode(place(folder, RunJson.FILE), headerBytes), problems)
                .map(json -> RunJson.read(json, file -> snapshot(folder, file, problems))
                        .header());
        Path endFile = folder.resolve(RunFolder.END_FILE);
        Optional<RunEnded> end = Optional.empty();
        if (Files.exists(endFile)) {
            end = Json.parse(endFile.toString(), 1, Utf8.decode(endFile.toString(), bytes(endFile)), problems)
                    .map(EventJson::ended);
        }
        Path verdict = RunFolder.verdictFile(folder);
        Optional<Judgement> judgement =
                Files.exists(verdict) ? Optional.of(RunFolder.readVerdict(verdict)) : Optional.empty();
        if (header.isEmpty() || !problems.isEmpty()) {
            throw new BadFileException(problems);
        }
        return new RunSummary(
                header.get(),
                Digests.sha256(headerBytes),
                end.map(RunEnded::wallTime),
                end.map(RunEnded::outcome).orElse(RunFolder.WITHOUT_END),
                judgement,
                SignOffJson.of(folder));
    }

    private static String place(Path folder, String file) {
        return folder.resolve(file).toString();
    }

    private static Optional<String> snapshot(Path folder, String file, List<Problem> problems) {
        try {
            return Optional.of(Utf8.decode(place(folder, file), bytes(folder.resolve(file))));
        } catch (BadFileException e) {
            problems.addAll(e.problems());
            return Optional.empty();
        }
    }

    private static byte[] bytes(Path file) throws BadFileException {
        try {
            return Files.readAllBytes(file);
        } catch (IOException e) {
            throw new BadFileException(List.of(new Problem(file.toString(), 0, 0, "", "cannot be read: " + e)));
        }
    }
}

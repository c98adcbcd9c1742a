package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.judge.Judgement;
import railproof.profile.DecisionRule;
import railproof.record.RunFolder;

class ProfileSuggestionTest {
    @TempDir
    private Path data = Path.of("");

    @BeforeEach
    void anArchiveOfThreeRuns() throws Exception {
        run("20261101T080000Z_LC-2107_as-found", "counter-5v");
        run("20261102T080000Z_TM-0417_as-left", "tape-24v");
        run("20261103T080000Z_TM-0500_as-left", "tape-85v");
    }

    private void run(String folder, String profile) throws Exception {
        Path made = Files.createDirectories(data.resolve(folder));
        Files.writeString(made.resolve("run.json"), "{}");
        RunFolder.writeVerdict(made, new Judgement(profile, "0", DecisionRule.GUARD_BAND, List.of()));
    }

    @Test
    void aUnitSeenBeforeGetsTheProfileOfItsLastRun() {
        assertEquals(Optional.of("tape-24v"), new ProfileSuggestion(data).of(" TM-0417\n"));
    }

    @Test
    void aNewUnitGetsTheProfileOfTheLastUnitWithTheSameLetters() {
        assertEquals(Optional.of("tape-85v"), new ProfileSuggestion(data).of("TM-0999"));
        assertEquals(Optional.of("counter-5v"), new ProfileSuggestion(data).of("LC-1"));
    }

    @Test
    void anUnknownKindGetsNone() {
        assertEquals(Optional.empty(), new ProfileSuggestion(data).of("XY-1"));
        assertEquals(Optional.empty(), new ProfileSuggestion(data).of("123"));
    }

    @Test
    void aMissingDataDirectorySuggestsNothing() {
        assertEquals(Optional.empty(), new ProfileSuggestion(data.resolve("nowhere")).of("LC-2107"));
    }
}

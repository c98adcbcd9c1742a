package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.profile.UnitPart;

final class RepairsTest {
    @TempDir
    private Path data = Path.of("");

    private Path run(String name) throws IOException {
        Path folder = Files.createDirectories(data.resolve(name));
        Files.writeString(folder.resolve("run.json"), "{}");
        return folder;
    }

    private static Path confirm(Path run, String profileId, UnitPart part) throws IOException {
        return Files.writeString(run.resolve(Repairs.FILE), Repairs.text(profileId, part));
    }

    @Test
    void countsWhatWasConfirmedForTheSameTypeOfSupply() throws IOException, BadFileException {
        confirm(run("a"), "counter-5v", UnitPart.RESERVOIR_CAPACITOR);
        confirm(run("b"), "counter-5v", UnitPart.RESERVOIR_CAPACITOR);
        confirm(run("c"), "counter-5v", UnitPart.DRIVER);
        confirm(run("d"), "tape-24v", UnitPart.DRIVER);
        run("e");

        assertEquals(
                Map.of(UnitPart.RESERVOIR_CAPACITOR, 2, UnitPart.DRIVER, 1), Repairs.confirmed(data, "counter-5v"));
    }

    @Test
    void aLaterWordOnTheSameRunReplacesTheEarlierOne() throws IOException, BadFileException {
        Path run = run("a");
        confirm(run, "counter-5v", UnitPart.DRIVER);
        confirm(run, "counter-5v", UnitPart.PASS_TRANSISTOR);

        assertEquals(Map.of(UnitPart.PASS_TRANSISTOR, 1), Repairs.confirmed(data, "counter-5v"));
    }

    @Test
    void aDamagedFileIsNamedWithItsPlace() throws IOException {
        Path file = confirm(run("a"), "counter-5v", UnitPart.DRIVER);
        Files.writeString(file, Files.readString(file).replace("driver", "driving"));

        BadFileException bad = assertThrows(BadFileException.class, () -> Repairs.confirmed(data, "counter-5v"));

        String said = String.valueOf(bad.getMessage());
        assertTrue(said.contains("repair.json:4:") && said.contains("driving"), said);
    }

    @Test
    void noDataDirectoryMeansNoRepairs() throws BadFileException {
        assertEquals(Map.of(), Repairs.confirmed(data.resolve("nowhere"), "counter-5v"));
    }
}

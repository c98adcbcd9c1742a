package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.base.Problem;

class DamagedRunTest {
    private final Path data;
    private Path folder;

    DamagedRunTest(@TempDir Path data) {
        this.data = data;
        this.folder = data;
    }

    @BeforeEach
    void writeARun() throws IOException {
        folder = RunFolderRoundTripTest.write(data, new RandomRuns(301).script(8));
    }

    @Test
    void aChangedSnapshotIsFoundByItsDigest() throws IOException {
        edit("profile.toml", text -> text.replace("12", "13"));
        Problem problem = problems().get(0);
        assertTrue(problem.message().contains("profile.toml was changed after the run"), problem.text());
        assertTrue(problem.file().endsWith("run.json") && problem.line() > 1 && problem.column() > 1, problem.text());
    }

    @Test
    void everyProblemOfTheTableIsFoundAtOnceWithItsPlace() throws IOException {
        Files.writeString(
                folder.resolve("points.csv"),
                """
                index,section,rail,asked_mode,asked_line_V,elapsed_s,settled,output_voltage_V,colour,note
                0,no-load,"a
                b",off,115,1.5x,true,,,
                0,load-sweep,r,CP,115,1,maybe,=1+1,,
                1,nowhere,r,off,115,1
                """
                        .replace("\n", "\r\n"));
        List<String> texts = problems().stream()
                .filter(problem -> problem.file().endsWith("points.csv"))
                .map(problem -> problem.line() + ":" + problem.column() + " " + problem.key())
                .toList();
        assertTrue(
                texts.containsAll(List.of("1:79 ", "3:12 elapsed_s", "4:16 asked_mode", "4:25 settled", "5:1 ")),
                texts.toString());
        assertTrue(texts.stream().anyMatch(text -> text.startsWith("4:31 output_voltage_V")), texts.toString());
    }

    @Test
    void aLostWaveformFileIsAProblem() throws IOException {
        Files.delete(folder.resolve("waveforms/0000.csv"));
        assertTrue(problems().get(0).text().contains("0000.csv: is missing"));
    }

    @Test
    void anEventsLineOfAnUnknownKindIsAProblem() throws IOException {
        edit("events.jsonl", text -> "{\"event\":\"party\",\"elapsed_s\":1.0}\n" + text);
        Problem problem = problems().get(0);
        assertEquals(1, problem.line());
        assertEquals("event", problem.key());
    }

    @Test
    void bytesThatAreNotUtf8AreLocated() throws IOException {
        byte[] bytes = Files.readAllBytes(folder.resolve("events.jsonl"));
        bytes[3] = (byte) 0xFF;
        Files.write(folder.resolve("events.jsonl"), bytes);
        assertTrue(problems().get(0).text().contains("events.jsonl:1:4: not valid UTF-8: byte 0xFF"));
    }

    @Test
    void aFolderThatIsNoRunIsSaid() {
        BadFileException e = assertThrows(BadFileException.class, () -> RunFolder.read(data.resolve("nothing")));
        assertTrue(String.valueOf(e.getMessage()).contains("run.json: is missing"), String.valueOf(e.getMessage()));
    }

    @Test
    void anyDamageEitherReadsOrIsReportedButNothingElseIsThrown() throws IOException {
        long seed = 302;
        Random random = new Random(seed);
        for (String file : List.of("run.json", "points.csv", "events.jsonl", "end.json", "waveforms/0000.csv")) {
            byte[] good = Files.readAllBytes(folder.resolve(file));
            for (int i = 0; i < 100; i++) {
                byte[] bad = good.clone();
                for (int k = random.nextInt(3); k >= 0; k--) {
                    bad[random.nextInt(bad.length)] = (byte) random.nextInt(256);
                }
                Files.write(folder.resolve(file), bad);
                try {
                    RunFolder.read(folder);
                } catch (BadFileException e) {
                    assertTrue(
                            String.valueOf(e.getMessage()).contains(folder.toString()),
                            "seed " + seed + ": " + String.valueOf(e.getMessage()));
                }
            }
            Files.write(folder.resolve(file), good);
        }
    }

    private void edit(String file, UnaryOperator<String> edit) throws IOException {
        Path path = folder.resolve(file);
        String before = Files.readString(path);
        String after = edit.apply(before);
        assertTrue(!before.equals(after), "the edit must change something");
        Files.writeString(path, after);
    }

    private List<Problem> problems() {
        return assertThrows(BadFileException.class, () -> RunFolder.read(folder))
                .problems();
    }
}

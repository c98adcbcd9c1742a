package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.run.RunHeader;
import railproof.run.Stage;

/** Run folders and serial numbers made to do harm: nothing is written outside, nothing fills the memory. */
class HostileRunFolderTest {
    private final Path base;
    private final Path data;
    private Path folder;

    HostileRunFolderTest(@TempDir Path base) {
        this.base = base;
        this.data = base.resolve("data");
        this.folder = base;
    }

    @BeforeEach
    void writeARun() throws IOException {
        folder = RunFolderRoundTripTest.write(data, new RandomRuns(401).script(6));
    }

    private String problems() {
        return assertThrows(BadFileException.class, () -> RunFolder.read(folder)).problems().stream()
                .map(Problem::text)
                .collect(Collectors.joining("\n"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "../../x",
                "/etc/passwd",
                "..\\..\\x",
                "CON",
                "nul.txt",
                "a/b",
                ".",
                "..",
                "",
                " ",
                "x\u0000y",
                "\u202Egnp.exe",
                "-rf *",
                "$(reboot)",
                "C:\\Windows",
                "~root",
                "\uD800"
            })
    void noSerialNumberLeadsOutOfTheDataFolder(String serial) throws IOException {
        writeNamed(serial);
        writeNamed(serial.repeat(1000));

        try (Stream<Path> beside = Files.list(base)) {
            assertEquals(List.of(data), beside.toList());
        }
        try (Stream<Path> runs = Files.list(data)) {
            for (Path run : runs.toList()) {
                String name = String.valueOf(run.getFileName());
                assertTrue(name.matches("[A-Za-z0-9][A-Za-z0-9._-]{0,127}"), name);
                assertTrue(RunFolder.isRun(run), name);
            }
        }
    }

    private void writeNamed(String serial) throws IOException {
        RunHeader h = new RandomRuns(402).header();
        Instant at = Instant.parse("2026-11-25T10:15:30Z");
        RunHeader named = new RunHeader(
                RunIds.of(at, serial, Stage.AS_FOUND),
                serial,
                Stage.AS_FOUND,
                "",
                at,
                h.softwareVersion(),
                h.profile(),
                h.rig(),
                h.calibration(),
                false,
                "",
                List.of());
        RunFolderWriter.open(data, named).close();
    }

    @Test
    void aLinkPutInTheWayOfTheVerdictIsReplacedAndNotFollowed() throws Exception {
        Path precious = Files.writeString(base.resolve("precious.txt"), "precious");
        Files.createSymbolicLink(folder.resolve("note.txt.part"), precious);
        Files.createSymbolicLink(folder.resolve("note.txt"), precious);

        RunFolder.writeText(folder, "note.txt", "new");

        assertEquals("precious", Files.readString(precious));
        assertEquals("new", Files.readString(folder.resolve("note.txt")));
        assertFalse(Files.isSymbolicLink(folder.resolve("note.txt")));
    }

    @Test
    void aLinkInPlaceOfARecordIsNotCutWhenTheRunIsResumed() throws Exception {
        Path precious = Files.writeString(base.resolve("precious.txt"), "precious\nprecious\n");
        Path points = folder.resolve("points.csv");
        Files.delete(points);
        Files.createSymbolicLink(points, precious);

        assertThrows(IOException.class, () -> DiskStore.INSTANCE.reopen(points, 0));
        assertEquals("precious\nprecious\n", Files.readString(precious));
    }

    @Test
    void afileThatIsAFolderIsSaid() throws IOException {
        Files.delete(folder.resolve("end.json"));
        Files.createDirectory(folder.resolve("end.json"));

        assertTrue(problems().contains("end.json"), this::problems);
    }

    @Test
    void aFileTooLargeToBeOneOfOursIsRefusedUnread() throws IOException {
        // sparse: 1 TiB that takes no room
        try (FileChannel channel = FileChannel.open(folder.resolve("run.json"), StandardOpenOption.WRITE)) {
            channel.write(java.nio.ByteBuffer.wrap(new byte[1]), 1L << 40);
        }

        assertTrue(problems().contains("run.json: is larger than 67108864 bytes, the most allowed"), this::problems);
    }

    @ParameterizedTest
    @ValueSource(strings = {"[", "{\"a\":"})
    void endlessNestingIsRefused(String opening) throws IOException {
        Files.writeString(folder.resolve("end.json"), "{\"a\":" + opening.repeat(100_000));

        assertTrue(problems().contains("end.json:1:"), this::problems);
    }

    @Test
    void numbersAndNamesBeyondAllReasonAreRefused() throws IOException {
        Files.writeString(folder.resolve("end.json"), "{\"elapsed_s\":" + "9".repeat(1000) + "}");
        assertTrue(problems().contains("end.json:1:"), this::problems);

        Files.writeString(folder.resolve("end.json"), "{\"" + "n".repeat(1000) + "\":1}");
        assertTrue(problems().contains("end.json:1:"), this::problems);
    }

    @Test
    void whatAFileHoldsCannotMoveTheTerminalsCursor() throws IOException {
        Files.writeString(folder.resolve("end.json"), "{\"end\":\"\\u001b[2J\\u0007\\u202e\"}");

        assertTrue(problems().chars().noneMatch(c -> c == 0x1b || c == 7 || c == 0x202e), this::problems);
    }

    @Test
    void noCellOfTheTableIsAFormulaForASpreadsheetAndEveryTextReadsBack() {
        for (String text : List.of(
                "=1+1",
                "+1",
                "-1",
                "@SUM(A1)",
                "\t=1",
                "\r=1",
                "\n=1",
                " =1",
                "\u00A0=1",
                "＝1",
                "'=1",
                "'",
                "=",
                "plain",
                "=cmd|' /C calc'!A0",
                "\u0000=1")) {
            String cell = Cells.text(text);
            String shown = cell.replaceFirst("^[\\s\\u00A0\\u0000]+", "");
            assertTrue(shown.isEmpty() || "=+-@＝＋－＠".indexOf(shown.charAt(0)) < 0, "a formula: " + text);
            assertEquals(text, Cells.unguarded(cell));
        }
    }
}

package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.rig.file.BuiltInFiles;

/** Editing without losing anything: neither what was typed, nor what was in the file. */
class FileEditTest {
    private final Path folder;
    private final Path file;
    private final Drafts drafts;
    private final String good = BuiltInFiles.profile("counter-5v").source().text();

    FileEditTest(@TempDir Path folder) {
        this.folder = folder;
        this.file = folder.resolve("mine.toml");
        this.drafts = new Drafts(folder.resolve("data"));
    }

    @BeforeEach
    void aGoodFile() throws Exception {
        Files.writeString(file, good);
    }

    private FileEdit open() throws Exception {
        return FileEdit.open(FileEdit.Kind.PROFILE, file.toString(), drafts);
    }

    @Test
    void allProblemsAreFoundAtOnceWithTheirPlaces() throws Exception {
        String bad = good.replaceFirst("nominal_V = 5\\b", "nominal_V = \"five\"")
                .replaceFirst("decision_rule = \"guard-band\"", "decision_rule = \"hope\"");

        List<Problem> problems = open().check(bad);

        assertTrue(problems.size() >= 2, problems::toString);
        assertTrue(problems.stream().allMatch(problem -> problem.line() > 0), problems::toString);
        assertTrue(problems.stream().anyMatch(problem -> problem.text().contains("hope")), problems::toString);
    }

    @Test
    void aTextThatCannotBeUsedStaysADraftAndTheFileAsItIs() throws Exception {
        FileEdit edit = open();

        List<Problem> problems = edit.save(1, file, "x" + good);

        assertFalse(problems.isEmpty());
        assertEquals(good, Files.readString(file));
        FileEdit again = open();
        assertTrue(again.fromDraft());
        assertEquals("x" + good, again.opened());
    }

    @Test
    void whatIsSavedIsInItsFileAndNoDraftIsLeft() throws Exception {
        FileEdit edit = open();
        edit.keepDraft(1, good + "# typed");

        assertEquals(List.of(), edit.save(2, file, good + "# done\n"));

        assertEquals(good + "# done\n", Files.readString(file));
        assertEquals(Optional.empty(), drafts.read(file));
        assertTrue(edit.isSaved(good + "# done\n"));
    }

    @Test
    void aDraftThatComesLateDoesNotCoverWhatWasSavedAfterIt() throws Exception {
        FileEdit edit = open();
        assertEquals(List.of(), edit.save(2, file, good + "# newer\n"));

        edit.keepDraft(1, good + "# older");

        assertEquals(Optional.empty(), drafts.read(file));
    }

    @Test
    void whatSomebodyElseWroteMeanwhileIsNotCovered() throws Exception {
        FileEdit edit = open();
        Files.writeString(file, good + "# by somebody else\n");

        List<Problem> problems = edit.save(1, file, good + "# mine\n");

        assertTrue(problems.get(0).text().contains("somebody else"), problems::toString);
        assertEquals(good + "# by somebody else\n", Files.readString(file));
        assertEquals(Optional.of(good + "# mine\n"), drafts.read(file));
    }

    @Test
    void anotherFileThatIsThereIsNotCovered() throws Exception {
        Path other = folder.resolve("other.toml");
        Files.writeString(other, "precious");

        List<Problem> problems = open().save(1, other, good);

        assertTrue(problems.get(0).text().contains("is there already"), problems::toString);
        assertEquals("precious", Files.readString(other));
    }

    @Test
    void filesOfOneNameInTwoFoldersHaveDraftsOfTheirOwn() throws Exception {
        Path twin = Files.createDirectories(folder.resolve("b")).resolve("mine.toml");

        drafts.keep(file, "one");
        drafts.keep(twin, "two");

        assertEquals(Optional.of("one"), drafts.read(file));
        assertEquals(Optional.of("two"), drafts.read(twin));
    }

    @Test
    void aFileThatIsNoTextAndANameThatIsNoneAreSaid() throws Exception {
        Files.write(file, new byte[] {(byte) 0xFF, (byte) 0xFE, 0});

        BadFileException noText = assertThrows(BadFileException.class, this::open);
        BadFileException none =
                assertThrows(BadFileException.class, () -> FileEdit.open(FileEdit.Kind.RIG, "no-such-rig", drafts));

        assertTrue(String.valueOf(noText.getMessage()).contains("UTF-8"), noText::getMessage);
        assertTrue(String.valueOf(none.getMessage()).contains("simulated-bench"), none::getMessage);
    }
}

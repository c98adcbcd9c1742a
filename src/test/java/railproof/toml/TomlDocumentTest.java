package railproof.toml;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.BadFileException;
import railproof.base.Problem;

class TomlDocumentTest {
    private enum Shape {
        ROUND,
        VERY_SQUARE
    }

    @Test
    void readsEveryKindOfValue() throws BadFileException {
        TomlDocument document = TomlDocument.parse(
                "f.toml",
                """
                name = "a \\u00b5V meter"
                count = 3
                size_V = 12
                ratio = 0.25
                on = true
                shape = "very-square"
                wait_ms = 2.5
                list = [1, 2.5]
                codes = [-113, 0]
                words = ["a", "b"]
                inner.x = 1
                [[rows]]
                n = 1
                [[rows]]
                n = 2
                [by-name.first]
                v = 7
                [by-name.second]
                v = 8
                """);
        TomlSection root = document.root();

        assertEquals("a µV meter", root.text("name"));
        assertEquals(3, root.integer("count", 0, 9));
        assertEquals(12.0, root.number("size_V", 0, 20));
        assertEquals(0.25, root.number("ratio", 0, 1));
        assertTrue(root.flag("on", false));
        assertEquals(Shape.VERY_SQUARE, root.choice("shape", Labels.of(Shape.values())));
        assertEquals(
                Duration.ofNanos(2_500_000),
                root.duration("wait_ms", Duration.ZERO, Duration.ofSeconds(1), Duration.ZERO));
        assertEquals(List.of(1.0, 2.5), root.numbers("list", 0, 9, 0, 9));
        assertEquals(List.of(-113, 0), root.integers("codes", -200, 200, 9));
        assertEquals(List.of("a", "b"), root.texts("words", 9));
        assertEquals(1, root.table("inner", true).orElseThrow().integer("x", 0, 9));
        assertEquals(
                List.of(1, 2),
                root.tables("rows", 1, 9).stream()
                        .map(row -> row.integer("n", 0, 9))
                        .toList());
        Map<String, TomlSection> named = root.namedTables("by-name", true, 9);
        assertEquals(List.of("first", "second"), List.copyOf(named.keySet()));
        named.values().forEach(section -> section.integer("v", 0, 9));
        document.finish();
    }

    @Test
    void leftOutValuesTakeTheirDefaults() throws BadFileException {
        TomlDocument document = TomlDocument.parse("f.toml", "");
        TomlSection root = document.root();

        assertEquals(7.5, root.number("a", 0, 9, 7.5));
        assertEquals(4, root.integer("b", 0, 9, 4));
        assertTrue(root.flag("c", true));
        assertEquals(Shape.ROUND, root.choice("d", Labels.of(Shape.values()), Shape.ROUND));
        assertEquals(
                Duration.ofHours(1), root.duration("e_h", Duration.ZERO, Duration.ofHours(2), Duration.ofHours(1)));
        assertEquals(Optional.empty(), root.optionalText("f"));
        assertEquals(List.of(), root.tables("g", 0, 9));
        assertEquals(Map.of(), root.namedTables("h", false, 9));
        document.finish();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "n = 'x'      | f.toml:1:1: n: must be a number from 0.5 to 1000; found the text \"x\"",
                "n = 1001     | f.toml:1:1: n: must be a number from 0.5 to 1000; found the number 1001",
                "n = 0.4999   | f.toml:1:1: n: must be a number from 0.5 to 1000; found the number 0.4999",
                "n = nan      | f.toml:1:1: n: must be a number from 0.5 to 1000; found the number NaN",
                "n = inf      | f.toml:1:1: n: must be a number from 0.5 to 1000; found the number Infinity",
                "n = true     | f.toml:1:1: n: must be a number from 0.5 to 1000; found true",
                "n = [1, 2]   | f.toml:1:1: n: must be a number from 0.5 to 1000; found a list of 2",
                "n = {a = 1}  | f.toml:1:1: n: must be a number from 0.5 to 1000; found a table",
                "n = 1979-05-27 | f.toml:1:1: n: must be a number from 0.5 to 1000; found the date or time 1979-05-27",
                "m = 1        | f.toml: n: is missing; it must be a number from 0.5 to 1000",
            })
    void numberThatIsNotOneSaysWhatWasFoundAndWhatIsAllowed(String text, String expected) {
        List<String> problems = problems(text, root -> {
            root.number("n", 0.5, 1000);
            root.optionalNumber("m", 0, 10);
        });

        assertEquals(List.of(expected), problems);
    }

    @Test
    void everyKindOfValueNamesItsPlaceAndWhatIsAllowed() {
        String text =
                """
                word = 1
                blank = " "
                lines = "a\\nb"
                whole = 2.5
                flag = "yes"
                shape = "rund"
                wait_ms = 5000
                link = "lod-1"
                list = [1, "x",
                   7]
                rows = [1]

                [inner]
                a = 1
                """;

        List<String> problems = problems(text, root -> {
            root.text("word");
            root.text("blank");
            root.text("lines");
            root.integer("whole", 0, 5);
            root.flag("flag", false);
            root.choice("shape", Labels.of(Shape.values()));
            root.duration("wait_ms", Duration.ofMillis(1), Duration.ofSeconds(2), Duration.ZERO);
            root.reference("link", "link", Map.of("load-1", 1));
            root.numbers("list", 0, 5, 2, 3);
            root.tables("rows", 1, 2);
            root.table("inner", true).orElseThrow().text("b");
        });

        assertEquals(
                List.of(
                        "f.toml:1:1: word: must be a text; found the number 1",
                        "f.toml:2:1: blank: must not be blank",
                        "f.toml:3:1: lines: must be one line without control characters; found \"a\\nb\"",
                        "f.toml:4:1: whole: must be a whole number from 0 to 5; found the number 2.5",
                        "f.toml:5:1: flag: must be true or false; found the text \"yes\"",
                        "f.toml:6:1: shape: \"rund\" is not one of round, very-square; did you mean \"round\"?",
                        "f.toml:7:1: wait_ms: must be a number from 1 to 2000; found the number 5000",
                        "f.toml:8:1: link: there is no link \"lod-1\"; did you mean \"load-1\"?",
                        "f.toml:9:12: list[2]: must be a number from 0 to 5; found the text \"x\"",
                        "f.toml:10:4: list[3]: must be a number from 0 to 5; found the number 7",
                        "f.toml:11:9: rows[1]: must be a table; found the number 1",
                        "f.toml:13:1: inner.b: is missing; it must be a text",
                        "f.toml:14:1: inner.a: unknown key; did you mean \"b\"?"),
                problems);
    }

    @Test
    void unknownKeyNamesTheNearestOrAllThatAreAllowed() {
        List<String> problems = problems("nominl_V = 1\ncolour = 'red'\n\"a b\" = 1\n", root -> {
            root.optionalNumber("nominal_V", 0, 1);
            root.optionalNumber("low_V", 0, 1);
        });

        assertEquals(
                List.of(
                        "f.toml:1:1: nominl_V: unknown key; did you mean \"nominal_V\"?",
                        "f.toml:2:1: colour: unknown key; allowed here: nominal_V, low_V",
                        "f.toml:3:1: \"a b\": unknown key; allowed here: nominal_V, low_V"),
                problems);
    }

    @Test
    void listOfTheWrongLengthSaysHowManyAreAllowed() {
        assertEquals(
                List.of("f.toml:1:1: band: must have 2 to 2 entries; found 3"),
                problems("band = [1, 2, 3]", root -> root.numbers("band", 0, 9, 2, 2)));
    }

    @Test
    void syntaxErrorsAreAllReportedWithTheirPlace() {
        assertEquals(
                List.of(
                        "f.toml:2:1: not valid TOML: a previously defined at line 1, column 1",
                        "f.toml:3:5: not valid TOML: Unexpected end of line, expected a value",
                        "f.toml:5:5: not valid TOML: Float is too large"),
                problems("a = 1\na = 2\nb = \nc = 1\nd = 1e999\n", root -> {}));
    }

    /** Two texts, found by fuzzing, on which the parser library itself breaks down. */
    @ParameterizedTest
    @ValueSource(strings = {"[a#\r", "1={\"\",.\n[i]"})
    void textThatBreaksTheParserIsLocatedToo(String broken) {
        assertEquals(List.of("f.toml:3: not valid TOML near this line"), problems("x = 1\n\n" + broken, root -> {}));
    }

    @Test
    void byteOrderMarkInFrontIsPassedOver() throws BadFileException {
        assertEquals(1, TomlDocument.parse("f.toml", "\uFEFFa = 1").root().integer("a", 0, 9));
    }

    @Test
    void messagesShowNoControlCharactersAndStayShort() {
        List<String> problems = problems("a = \"\\u001b[2J\\u202e" + "x".repeat(900) + "\"", root -> root.text("a"));

        assertEquals(1, problems.size());
        assertTrue(problems.get(0).contains("\\u001b[2J\\u202ex"), problems.get(0));
        assertTrue(problems.get(0).length() < 200, problems.get(0));
    }

    @Test
    void sizeLinesAndLineLengthAreBounded() {
        assertEquals(
                List.of("f.toml: the text is longer than 1048576 characters, the most allowed"),
                problems("#" + "x".repeat(1 << 20), root -> {}));
        assertEquals(
                List.of("f.toml: 20002 lines; at most 20000 are allowed"), problems("\n".repeat(20_001), root -> {}));
        assertEquals(
                List.of("f.toml:2: line of 5001 characters; at most 4000"),
                problems("a = 1\n#" + "x".repeat(5_000), root -> {}));
    }

    @Test
    void nestingIsBounded() {
        String deep = "a = " + "[".repeat(1_900) + "]".repeat(1_900);

        assertEquals(1, problems(deep, root -> root.numbers("a", 0, 1, 0, 9)).size());
    }

    @Test
    void longListOfProblemsIsCutAndCounted() {
        List<String> problems = problems("x\n".repeat(5_000), root -> {});

        assertEquals(101, problems.size());
        assertTrue(problems.get(100).endsWith("problems more"), problems.get(100));
    }

    @Test
    void filesThatAreNoTextAreRefused(@TempDir Path folder) throws IOException {
        Path bytes = folder.resolve("bytes.toml");
        Files.write(bytes, new byte[] {'a', '\n', 'b', (byte) 0xC3, (byte) 0xA9, (byte) 0xFF, 'c'});
        Path large = folder.resolve("large.toml");
        Files.writeString(large, "#".repeat((1 << 20) + 1), StandardCharsets.UTF_8);

        assertEquals(List.of(bytes + ":2:3: the byte 0xFF is not UTF-8 text"), readProblems(bytes));
        assertEquals(List.of(large + ": the file is larger than 1048576 bytes, the most allowed"), readProblems(large));
        assertEquals(List.of(folder + ": this is a folder; a file is wanted"), readProblems(folder));
        assertEquals(
                List.of(folder.resolve("none.toml") + ": there is no such file"),
                readProblems(folder.resolve("none.toml")));
    }

    @Test
    void fileCutInTheMiddleOfALetterIsRefused() {
        BadFileException bad = assertThrows(
                BadFileException.class, () -> TextFile.decode("f", new byte[] {'a', (byte) 0xE2, (byte) 0x82}));

        assertEquals("f:1:2: the byte 0xE2 is not UTF-8 text", bad.getMessage());
    }

    private static List<String> readProblems(Path file) {
        return texts(assertThrows(BadFileException.class, () -> TextFile.read(file)));
    }

    private static List<String> problems(String text, Consumer<TomlSection> reading) {
        return texts(assertThrows(BadFileException.class, () -> {
            TomlDocument document = TomlDocument.parse("f.toml", text);
            reading.accept(document.root());
            document.finish();
        }));
    }

    private static List<String> texts(BadFileException bad) {
        return bad.problems().stream().map(Problem::text).toList();
    }
}

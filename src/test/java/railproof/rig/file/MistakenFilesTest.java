package railproof.rig.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.instrument.LoadCommand;
import railproof.profile.ProfileFile;

/** One slip at any key of any shipped file is found, and said to be at that key. */
class MistakenFilesTest {
    private static final long SEED = 20_260_101;

    private static final int MOST_KEYS = 35;

    /** A key at the start of a line, its value (a list may run over lines) and a comment. */
    private static final Pattern LINE_KEY = Pattern.compile("(?m)^([\\w-]+) = (\\[\\n(?:.*\\n)*?\\]|.*?)[ ]*(?:#.*)?$");

    private static final Pattern INLINE_KEY = Pattern.compile("([\\w-]+) = (\"[^\"]*\"|\\[[^\\]]*\\]|[^,} ]+)");

    /** One key of a file: where its name starts, the name, where its value starts and ends. */
    private record Key(String name, int at, int from, int to, boolean named, boolean inline) {
        String value(String text) {
            return text.substring(from, to);
        }
    }

    static Stream<String> files() {
        return BuiltInFiles.index().stream();
    }

    @ParameterizedTest
    @MethodSource("files")
    void misspeltKeyIsNamed(String file) {
        String text = text(file);
        for (Key key : keys(text)) {
            String misspelt = text.substring(0, key.at) + key.name + "x" + text.substring(key.at + key.name.length());
            List<Problem> problems = problems(file, misspelt);
            if (key.named) {
                // the name of a link or channel: whoever refers to it no longer finds it
                assertFalse(problems.isEmpty(), file + " " + key.name);
            } else {
                assertNamed(problems, lineOf(text, key.at), key.name + "x", file);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("files")
    void keyLeftOutIsNamedUnlessItMayBeLeftOut(String file) {
        String text = text(file);
        int required = 0;
        for (Key key : keys(text)) {
            if (!key.inline) {
                List<Problem> problems = problems(file, text.substring(0, key.at) + text.substring(key.to));
                boolean named = problems.stream()
                        .anyMatch(problem ->
                                isKey(problem, key.name) || problem.message().contains(key.name));
                assertTrue(problems.isEmpty() || named || key.named, file + " without " + key.name + ": " + problems);
                required += named ? 1 : 0;
            }
        }
        assertTrue(required >= 5, file + " has only " + required + " required keys");
    }

    @ParameterizedTest
    @MethodSource("files")
    void valueOfAnotherTypeIsNamed(String file) {
        String text = text(file);
        Random random = new Random(SEED);
        for (Key key : keys(text)) {
            String other = key.value(text).startsWith("\"") ? "7" : "\"seven\"";
            String wrong = random.nextBoolean() ? other : "1979-05-27";
            assertNamed(problems(file, with(text, key, wrong)), lineOf(text, key.at), key.name, file);
        }
    }

    @ParameterizedTest
    @MethodSource("files")
    void valueOutOfRangeIsNamed(String file) {
        String text = text(file);
        Random random = new Random(SEED);
        for (Key key : keys(text)) {
            List<String> wrong = outOfRange(key.name, key.value(text));
            if (!wrong.isEmpty()) {
                String one = wrong.get(random.nextInt(wrong.size()));
                assertNamed(problems(file, with(text, key, one)), lineOf(text, key.at), key.name, file + " " + one);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("files")
    void severalMistakesAreAllReported(String file) {
        String text = text(file);
        Random random = new Random(SEED);
        for (int round = 0; round < 15; round++) {
            List<Key> keys = new ArrayList<>(keys(text));
            // what else may stand beside a kind is not known when the kind is wrong
            keys.removeIf(key -> key.inline
                    || key.named
                    || key.name.equals("kind")
                    || key.value(text).contains("\n"));
            List<Key> chosen = random.ints(4, 0, keys.size())
                    .distinct()
                    .mapToObj(keys::get)
                    .sorted(Comparator.comparingInt(Key::at))
                    .toList();
            String wrong = text;
            for (int i = chosen.size() - 1; i >= 0; i--) {
                wrong = with(wrong, chosen.get(i), "1979-05-27");
            }
            List<Problem> problems = problems(file, wrong);
            for (Key key : chosen) {
                assertNamed(problems, lineOf(text, key.at), key.name, file + " seed " + SEED + " round " + round);
            }
        }
    }

    private static List<String> outOfRange(String key, String value) {
        if (value.matches("-?[0-9][0-9_.]*")) {
            return List.of("1e30", "-1e30", "nan", "-inf");
        }
        if (value.startsWith("\"")) {
            boolean mayBeEmpty = Arrays.stream(LoadCommand.values())
                    .anyMatch(command -> command.optional() && command.key().equals(key));
            return List.of(mayBeEmpty ? "\"\\t\"" : "\"\"", "\" \"", '"' + "x".repeat(3_000) + '"', "\"a\\u0007\"");
        }
        if (value.matches("\\[-?[0-9.]+\\]")) {
            return List.of("[1e30]", "[nan]", "[\"a\"]");
        }
        if (value.matches("\\[-?[0-9].*")) {
            return List.of("[1e30, 1e30]", "[1]", "[\"a\", \"b\"]", "[nan, 1]");
        }
        return List.of();
    }

    private static void assertNamed(List<Problem> problems, int line, String key, String which) {
        assertTrue(
                problems.stream().anyMatch(problem -> problem.line() == line && isKey(problem, key)),
                () -> which + ": nothing about " + key + " in line " + line + ", but " + problems);
    }

    private static boolean isKey(Problem problem, String name) {
        String key = problem.key().replaceAll("\\[\\d+\\]$", "");
        return key.equals(name) || key.endsWith("." + name);
    }

    private static String with(String text, Key key, String value) {
        return text.substring(0, key.from) + value + text.substring(key.to);
    }

    private static int lineOf(String text, int at) {
        return 1
                + (int) text.substring(0, at)
                        .chars()
                        .filter(letter -> letter == '\n')
                        .count();
    }

    private static List<Key> keys(String text) {
        List<Key> keys = new ArrayList<>();
        Matcher line = LINE_KEY.matcher(text);
        while (line.find()) {
            boolean table = line.group(2).startsWith("{");
            String section = text.substring(0, line.start()).replaceAll("(?s).*\\n(\\[[^\\n]*)\\n.*", "$1");
            boolean named = section.startsWith("[links]") || section.startsWith("[channels]");
            keys.add(new Key(line.group(1), line.start(1), line.start(2), line.end(2), named, false));
            if (table) {
                Matcher inner = INLINE_KEY.matcher(text).region(line.start(2), line.end(2));
                while (inner.find()) {
                    keys.add(new Key(inner.group(1), inner.start(1), inner.start(2), inner.end(2), false, true));
                }
            }
        }
        assertTrue(keys.size() > 20, "the pattern finds the keys");
        // the long files repeat themselves: some of their keys will do
        Collections.shuffle(keys, new Random(SEED));
        return keys.subList(0, Math.min(keys.size(), MOST_KEYS));
    }

    private static String text(String file) {
        String name = file.replace(".toml", "");
        String text = name.startsWith("profiles/")
                ? BuiltInFiles.profile(name.substring(9)).source().text()
                : BuiltInFiles.rig(name).source().text();
        assertEquals(List.of(), problems(file, text));
        return text;
    }

    private static List<Problem> problems(String file, String text) {
        try {
            if (file.startsWith("profiles/")) {
                ProfileFile.parse(file, text);
            } else {
                RigFile.parse(file, text);
            }
            return List.of();
        } catch (BadFileException e) {
            return e.problems();
        }
    }
}

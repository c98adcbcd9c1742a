package railproof.toml;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.tomlj.Toml;
import org.tomlj.TomlParseError;
import org.tomlj.TomlParseResult;
import org.tomlj.TomlVersion;
import railproof.base.BadFileException;
import railproof.base.Problem;

/**
 * One TOML 1.0 text being read. Values are taken from its sections; problems gather here; {@link #finish} ends the
 * reading and throws if there was any.
 *
 * <p>Thread: confined to the reader.
 */
public final class TomlDocument {
    private static final int MAX_LINES = 20_000;
    private static final int MAX_LINE_LENGTH = 4_000;
    private static final int MAX_PROBLEMS = 100;
    private static final int MAX_DEPTH = 64;

    private final String name;
    private final List<Problem> problems = new ArrayList<>();
    private final List<TomlSection> sections = new ArrayList<>();
    private final TomlSection root;

    private TomlDocument(String name, TomlParseResult parsed) {
        this.name = name;
        this.root = new TomlSection(this, parsed, "", 0, 0);
    }

    /**
     * Parses the text.
     *
     * @param name the file's name, for messages
     * @param text the whole text; a byte-order mark in front is passed over
     * @throws BadFileException with every syntax error, or if the text is out of bounds
     */
    public static TomlDocument parse(String name, String text) throws BadFileException {
        requireBounds(name, text);
        TomlParseResult parsed = parsed(name, text.startsWith("\uFEFF") ? text.substring(1) : text);
        if (parsed.hasErrors()) {
            List<Problem> errors = new ArrayList<>();
            for (TomlParseError error : parsed.errors()) {
                errors.add(new Problem(
                        name,
                        error.position().line(),
                        error.position().column(),
                        "",
                        "not valid TOML: " + Wording.message(String.valueOf(error.getMessage()))));
            }
            throw badFile(name, errors);
        }
        return new TomlDocument(name, parsed);
    }

    /** The top level of the file. */
    public TomlSection root() {
        return root;
    }

    /**
     * Ends the reading: keys nobody asked for become problems too.
     *
     * @throws BadFileException with every problem found, in file order
     */
    public void finish() throws BadFileException {
        sections.forEach(TomlSection::reportUnknownKeys);
        if (!problems.isEmpty()) {
            throw badFile(name, problems);
        }
    }

    void register(TomlSection section) {
        sections.add(section);
    }

    void problem(int line, int column, String key, String message) {
        problems.add(new Problem(name, line, column, key, message));
    }

    /**
     * Parses; where the parser itself breaks down on a malformed text (tomlj 2.2.0 does on rare ones, with an exception
     * or with an assertion of its own), says near which line.
     */
    private static TomlParseResult parsed(String name, String text) throws BadFileException {
        try {
            return Toml.parse(text, TomlVersion.V1_0_0);
        } catch (RuntimeException | AssertionError | StackOverflowError e) {
            int line = firstBadLine(text);
            throw badFile(name, List.of(new Problem(name, line, 0, "", "not valid TOML near this line")));
        }
    }

    /** Bisects for the first line with which the beginning of the text is no longer valid. */
    private static int firstBadLine(String text) {
        String[] lines = text.split("\n", -1);
        int good = 0;
        int bad = lines.length;
        while (bad - good > 1) {
            int middle = (good + bad) / 2;
            if (valid(String.join("\n", Arrays.asList(lines).subList(0, middle)))) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        return bad;
    }

    private static boolean valid(String text) {
        try {
            return !Toml.parse(text, TomlVersion.V1_0_0).hasErrors();
        } catch (RuntimeException | AssertionError | StackOverflowError e) {
            return false;
        }
    }

    /** Brackets that are open; those in texts count too, which no file of ours comes near. */
    private static int depth(int before, char letter) {
        return switch (letter) {
            case '[', '{' -> before + 1;
            case ']', '}' -> Math.max(0, before - 1);
            default -> before;
        };
    }

    private static void requireBounds(String name, String text) throws BadFileException {
        List<Problem> problems = new ArrayList<>();
        if (text.length() > TextFile.MAX_BYTES) {
            problems.add(new Problem(
                    name, 0, 0, "", "the text is longer than " + TextFile.MAX_BYTES + " characters, the most allowed"));
        } else {
            int line = 1;
            int start = 0;
            int depth = 0;
            for (int i = 0; i <= text.length(); i++) {
                depth = i < text.length() ? depth(depth, text.charAt(i)) : depth;
                if (depth > MAX_DEPTH) {
                    problems.add(new Problem(
                            name, line, 0, "", "brackets nested deeper than " + MAX_DEPTH + ", the most allowed"));
                    break;
                }
                if (i == text.length() || text.charAt(i) == '\n') {
                    if (i - start > MAX_LINE_LENGTH) {
                        problems.add(new Problem(
                                name,
                                line,
                                0,
                                "",
                                "line of " + (i - start) + " characters; at most " + MAX_LINE_LENGTH));
                    }
                    start = i + 1;
                    line++;
                }
            }
            if (line - 1 > MAX_LINES) {
                problems.add(new Problem(name, 0, 0, "", (line - 1) + " lines; at most " + MAX_LINES + " are allowed"));
            }
        }
        if (!problems.isEmpty()) {
            throw badFile(name, problems);
        }
    }

    private static BadFileException badFile(String name, List<Problem> problems) {
        List<Problem> sorted = new ArrayList<>(problems);
        sorted.sort(Comparator.comparingInt(Problem::line).thenComparingInt(Problem::column));
        if (sorted.size() > MAX_PROBLEMS) {
            int more = sorted.size() - MAX_PROBLEMS;
            sorted = new ArrayList<>(sorted.subList(0, MAX_PROBLEMS));
            sorted.add(new Problem(name, 0, 0, "", "and " + more + " problems more"));
        }
        return new BadFileException(sorted);
    }
}

package railproof.rig.file;

import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.toml.TextFile;

/** Whatever bytes a file holds, reading it ends in a rig, a profile or a list of problems that can be shown. */
class HostileFilesTest {
    private static final int ROUNDS = 250;

    /** Pieces that steer the parser into odd corners more often than plain noise does. */
    private static final List<String> PIECES = List.of(
            "[",
            "]",
            "[[",
            "]]",
            "{",
            "}",
            "=",
            ".",
            ",",
            "\"",
            "'",
            "\"\"\"",
            "'''",
            "#",
            "\n",
            "\r",
            "\r\n",
            "\\u0000",
            "\\ud800",
            "\u0000",
            "\u202e",
            "nan",
            "-inf",
            "1e308",
            "9999999999999999999",
            "0x",
            "1979-05-27T07:32:00Z",
            "24:61:61",
            "true",
            "rails",
            "[[rails]]",
            "[links.\"\"]",
            "a.b.c.d.e.f = 1\n",
            "\uFEFF",
            "[[[[[[[[[[[[",
            "\"%s %n %d\" = 1\n",
            "link = \"%s\"\n",
            "{a={a={a={a=1}}}}");

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void randomBytesNeverCauseAnythingButProblems(long seed) {
        Random random = new Random(seed);
        for (int round = 0; round < ROUNDS; round++) {
            byte[] bytes = new byte[random.nextInt(400)];
            random.nextBytes(bytes);
            if (random.nextBoolean()) {
                for (int i = 0; i < bytes.length; i++) {
                    bytes[i] = (byte) (' ' + (bytes[i] & 0x7F) % 95);
                }
            }
            read(bytes, "seed " + seed + " round " + round);
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13})
    void damagedFilesNeverCauseAnythingButProblems(long seed) {
        Random random = new Random(seed);
        List<String> texts = Stream.concat(
                        BuiltInFiles.rigNames().stream()
                                .map(name -> BuiltInFiles.rig(name).source().text()),
                        BuiltInFiles.profileNames().stream()
                                .map(name -> BuiltInFiles.profile(name).source().text()))
                .toList();
        for (int round = 0; round < ROUNDS; round++) {
            StringBuilder text = new StringBuilder(texts.get(random.nextInt(texts.size())));
            int wounds = 1 + random.nextInt(6);
            for (int wound = 0; wound < wounds && text.length() > 0; wound++) {
                damage(text, random);
            }
            read(text.toString().getBytes(StandardCharsets.UTF_8), "seed " + seed + " round " + round);
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {21, 22})
    void soupOfSyntaxNeverCausesAnythingButProblems(long seed) {
        Random random = new Random(seed);
        for (int round = 0; round < ROUNDS; round++) {
            StringBuilder text = new StringBuilder();
            int count = 1 + random.nextInt(60);
            for (int i = 0; i < count; i++) {
                text.append(PIECES.get(random.nextInt(PIECES.size())));
            }
            read(text.toString().getBytes(StandardCharsets.UTF_8), "seed " + seed + " round " + round);
        }
    }

    private static void damage(StringBuilder text, Random random) {
        int at = random.nextInt(text.length());
        int to = Math.min(text.length(), at + 1 + random.nextInt(40));
        switch (random.nextInt(5)) {
            case 0 -> text.delete(at, to);
            case 1 -> text.insert(random.nextInt(text.length()), text.substring(at, to));
            case 2 -> text.insert(at, PIECES.get(random.nextInt(PIECES.size())));
            case 3 -> text.setCharAt(at, (char) (1 + random.nextInt(0x2FF)));
            default -> text.setLength(at);
        }
    }

    private static void read(byte[] bytes, String which) {
        boolean rigRead = readOne(() -> RigFile.parse("f.toml", TextFile.decode("f.toml", bytes)), which);
        boolean profileRead = readOne(() -> ProfileFile.parse("f.toml", TextFile.decode("f.toml", bytes)), which);
        assertTrue(!rigRead || !profileRead, which + ": one text is both a rig and a profile");
    }

    private static boolean readOne(Reading reading, String which) {
        try {
            reading.read();
            return true;
        } catch (BadFileException e) {
            for (Problem problem : e.problems()) {
                String text = problem.text();
                assertTrue(text.length() < 1_500, which + ": message of " + text.length() + " characters");
                assertTrue(text.chars().noneMatch(Character::isISOControl), which + ": control character in " + text);
            }
            return false;
        } catch (RuntimeException | AssertionError | StackOverflowError e) {
            return fail(which, e);
        }
    }

    @FunctionalInterface
    private interface Reading {
        void read() throws BadFileException;
    }
}

package railproof.toml;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import railproof.Mutator;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.rig.file.RigFile;

/** Whatever a TOML file holds, reading it ends in a document or in problems that can be shown. */
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class TomlFuzzTest {
    private static final long SEED = Long.getLong("railproof.fuzz.seed", 20_261_125);
    private static final String[] WORDS = {
        "[", "]", "[[", "]]", "{", "}", "=", ".", "\"", "'", "\"\"\"", "#", "\n", "\r", "nan", "1e308", "0x", "true",
        "links", "rails", "\u0000", "\u202e"
    };

    @Test
    void anyTextIsReadOrReported() throws Exception {
        new Mutator("toml", SEED, WORDS).feed(1_000, TomlFuzzTest::read);
    }

    @Test
    @Tag("slow")
    void fiftyThousandTextsAreReadOrReported() throws Exception {
        new Mutator("toml", SEED + 1, WORDS).feed(50_000, TomlFuzzTest::read);
    }

    private static void read(byte[] input) {
        attempt(() ->
                TomlDocument.parse("f.toml", TextFile.decode("f.toml", input)).finish());
        if ((input.length & 7) == 0) {
            attempt(() -> RigFile.parse("f.toml", TextFile.decode("f.toml", input)));
            attempt(() -> ProfileFile.parse("f.toml", TextFile.decode("f.toml", input)));
        }
    }

    @FunctionalInterface
    private interface Reading {
        void read() throws BadFileException;
    }

    private static void attempt(Reading reading) {
        try {
            reading.read();
        } catch (BadFileException e) {
            for (Problem problem : e.problems()) {
                assertTrue(problem.text().length() < 1_500);
                assertTrue(problem.text().chars().noneMatch(Character::isISOControl), problem.text());
            }
        }
    }
}

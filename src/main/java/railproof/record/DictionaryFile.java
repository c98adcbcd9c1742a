package railproof.record;

import java.io.IOException;
import java.nio.BufferUnderflowException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import railproof.diagnosis.Dictionary;
import railproof.diagnosis.DictionaryMaker;
import railproof.profile.LineRating;
import railproof.profile.Rail;

/**
 * Fault dictionaries kept in the data directory, one file per rail as its profile has it: working one out takes seconds,
 * reading it back a few milliseconds. A file that is not as written, or from another version of the model, is made
 * again; one that cannot be written is done without.
 */
public final class DictionaryFile {
    private static final int MAGIC = 0x52504644;
    private static final String FOLDER = "fault-dictionaries";
    private static final int HEAD = 2 * Integer.BYTES;
    private static final int KEY_CHARACTERS = 24;

    private DictionaryFile() {}

    /**
     * The dictionary of a rail, from its file if there is a good one.
     *
     * @param making told before a dictionary is worked out, which takes a while
     */
    public static Dictionary of(Path dataDirectory, Rail rail, LineRating line, Runnable making) {
        Path file = dataDirectory.resolve(FOLDER).resolve(key(rail, line) + ".bin");
        Optional<Dictionary> kept = read(file);
        if (kept.isPresent()) {
            return kept.get();
        }
        making.run();
        Dictionary made = DictionaryMaker.make(rail, line);
        write(file, made);
        return made;
    }

    /** What the dictionary depends on, and nothing else: a limit that changes costs no new dictionary. */
    private static String key(Rail rail, LineRating line) {
        String text = Dictionary.VERSION + " " + rail.nominalV() + " " + rail.ratedCurrentA() + " "
                + rail.minimumLoadA() + " " + rail.limitShape() + " " + rail.maxProbeCurrentA() + " " + rail.parts()
                + " " + line;
        return Digests.sha256(text.getBytes(StandardCharsets.UTF_8)).substring(0, KEY_CHARACTERS);
    }

    private static Optional<Dictionary> read(Path file) {
        try {
            ByteBuffer bytes = ByteBuffer.wrap(Files.readAllBytes(file));
            if (bytes.remaining() < HEAD || bytes.getInt() != MAGIC || bytes.getInt() != Dictionary.VERSION) {
                return Optional.empty();
            }
            float[] numbers = new float[bytes.remaining() / Float.BYTES];
            bytes.asFloatBuffer().get(numbers);
            return Optional.of(Dictionary.of(numbers));
        } catch (IOException | BufferUnderflowException | IllegalArgumentException e) {
            // not there, or not as written: it is made again
            return Optional.empty();
        }
    }

    private static void write(Path file, Dictionary dictionary) {
        float[] numbers = dictionary.numbers();
        ByteBuffer bytes = ByteBuffer.allocate(HEAD + Float.BYTES * numbers.length);
        bytes.putInt(MAGIC).putInt(Dictionary.VERSION);
        bytes.asFloatBuffer().put(numbers);
        try {
            Files.createDirectories(file.resolveSibling("."));
            RecordFile.writeWhole(DiskStore.INSTANCE, file, bytes.array());
        } catch (IOException e) {
            System.getLogger("railproof.record").log(System.Logger.Level.DEBUG, "the fault dictionary is not kept", e);
        }
    }
}

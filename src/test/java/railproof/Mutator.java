package railproof;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;

/**
 * Inputs for fuzzing: those kept under {@code src/test/resources/fuzz} as they are, then mutations and crossings of them.
 * The same seed gives the same inputs.
 */
public final class Mutator {
    /** Heap may grow by so much over a campaign: what the tests themselves hold, never with the number of inputs. */
    private static final long GROWTH_BYTES = 32L << 20;

    private final List<byte[]> kept = new ArrayList<>();
    private final List<byte[]> pieces = new ArrayList<>();
    private final Random random;
    private int given;

    /**
     * With the kept inputs of a kind.
     *
     * @param kind folder under {@code src/test/resources/fuzz}
     * @param words pieces that steer into odd corners more often than noise does
     */
    public Mutator(String kind, long seed, String... words) throws IOException {
        random = new Random(seed);
        try (Stream<Path> files = Files.list(Path.of("src", "test", "resources", "fuzz", kind))) {
            for (Path file : files.sorted().toList()) {
                kept.add(Files.readAllBytes(file));
            }
        }
        for (String word : words) {
            pieces.add(word.getBytes(StandardCharsets.UTF_8));
        }
    }

    /** The next input. */
    public byte[] next() {
        if (given < kept.size()) {
            return kept.get(given++).clone();
        }
        byte[] input = kept.get(random.nextInt(kept.size())).clone();
        for (int i = random.nextInt(4); i >= 0; i--) {
            input = mutated(input);
        }
        return input;
    }

    /** The next input as text, byte by byte. */
    public String nextText() {
        return new String(next(), StandardCharsets.ISO_8859_1);
    }

    private byte[] mutated(byte[] in) {
        int at = in.length == 0 ? 0 : random.nextInt(in.length);
        int to = Math.min(in.length, at + 1 + random.nextInt(16));
        return switch (random.nextInt(8)) {
            case 0 -> spliced(in, at, to, new byte[0]);
            case 1 -> spliced(in, at, at, java.util.Arrays.copyOfRange(in, at, to));
            case 2 -> spliced(in, at, at, new byte[] {(byte) random.nextInt(256)});
            case 3 -> spliced(in, at, Math.min(in.length, at + 1), new byte[] {(byte) random.nextInt(128)});
            case 4 -> java.util.Arrays.copyOf(in, at);
            case 5 -> {
                byte[] other = kept.get(random.nextInt(kept.size()));
                yield spliced(in, at, in.length, other);
            }
            case 6 -> spliced(in, at, at, pieces.isEmpty() ? in : pieces.get(random.nextInt(pieces.size())));
            default -> spliced(in, at, to, pieces.isEmpty() ? in : pieces.get(random.nextInt(pieces.size())));
        };
    }

    private static byte[] spliced(byte[] in, int from, int to, byte[] middle) {
        byte[] out = new byte[from + middle.length + in.length - to];
        System.arraycopy(in, 0, out, 0, from);
        System.arraycopy(middle, 0, out, from, middle.length);
        System.arraycopy(in, to, out, from + middle.length, in.length - to);
        return out;
    }

    /** What is done with an input. */
    @FunctionalInterface
    public interface Taker {
        /** Takes it; throws nothing but what it documents. */
        void take(byte[] input) throws Exception;
    }

    /**
     * Gives so many inputs and sees that the heap does not grow with them.
     *
     * @throws AssertionError naming the input that broke something, or memory that grew
     */
    @SuppressWarnings("IllegalCatch") // whatever breaks is to be shown with its input
    public void feed(long inputs, Taker taker) {
        long beforeBytes = used();
        for (long i = 0; i < inputs; i++) {
            byte[] input = next();
            try {
                taker.take(input);
            } catch (Exception | Error e) {
                throw new AssertionError(
                        "input " + i + ": " + java.util.HexFormat.of().formatHex(input), e);
            }
        }
        long grown = used() - beforeBytes;
        if (grown > GROWTH_BYTES) {
            throw new AssertionError("the heap grew by " + grown + " bytes over " + inputs + " inputs");
        }
    }

    private static long used() {
        System.gc();
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }
}

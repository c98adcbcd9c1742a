package railproof.instrument;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Reads the files of golden vectors that go with the protocol page. */
final class VectorFile {
    /** One block: its title, its lines by first word, its fields. */
    static final class Vector {
        final String title;
        final Map<String, String> lines = new LinkedHashMap<>();
        final Map<String, String> fields = new LinkedHashMap<>();

        Vector(String title) {
            this.title = title;
        }

        String line(String word) {
            return Optional.ofNullable(lines.get(word)).orElseThrow(() -> new AssertionError(title + ": no " + word));
        }

        byte[] bytes(String word) {
            return hex(line(word));
        }

        int header(String name) {
            for (String part : line("header").split(" ", -1)) {
                if (part.startsWith(name + "=")) {
                    return Integer.parseInt(part.substring(name.length() + 1));
                }
            }
            throw new AssertionError(title + ": no " + name);
        }

        @Override
        public String toString() {
            return title;
        }
    }

    private VectorFile() {}

    static byte[] hex(String text) {
        return HexFormat.of().parseHex(text.replace(" ", ""));
    }

    /** Blocks that begin with {@code word}. */
    static List<Vector> read(String file, String word) throws IOException {
        List<Vector> vectors = new ArrayList<>();
        Path path = Path.of("firmware-protocol", "vectors", file);
        for (String line : Files.readAllLines(path, StandardCharsets.UTF_8)) {
            if (line.isBlank() || line.startsWith("#")) {
                continue;
            }
            int space = line.indexOf(' ');
            String first = space < 0 ? line : line.substring(0, space);
            String rest = space < 0 ? "" : line.substring(space + 1);
            if (first.equals(word)) {
                vectors.add(new Vector(rest));
            } else if (first.equals("field")) {
                int second = rest.indexOf(' ');
                last(vectors).fields.put(rest.substring(0, second), rest.substring(second + 1));
            } else {
                last(vectors).lines.put(first, rest);
            }
        }
        return vectors;
    }

    private static Vector last(List<Vector> vectors) {
        return vectors.get(vectors.size() - 1);
    }
}

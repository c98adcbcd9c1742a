package railproof.signal;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;

/** Reads the copies of the NIST reference data: comment lines with {@code #}, one heading, comma-separated numbers. */
final class NistData {
    private NistData() {}

    static double[] column(String file, int column) throws IOException {
        try (InputStream in = Objects.requireNonNull(NistData.class.getResourceAsStream("/nist/" + file), file);
                BufferedReader reader = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
            List<String> lines = reader.lines()
                    .filter(line -> !line.startsWith("#") && !line.isBlank())
                    .skip(1)
                    .toList();
            return lines.stream()
                    .mapToDouble(line -> Double.parseDouble(line.split(",", -1)[column]))
                    .toArray();
        }
    }
}

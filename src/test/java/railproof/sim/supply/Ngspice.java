package railproof.sim.supply;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Runs one of our netlists with the ngspice program and reads what it printed, and the waveforms it wrote. */
public final class Ngspice {
    /** Where a netlist writes waveforms ({@code wrdata}), in pairs of time and value. */
    private static final String WAVES = "waves.txt";

    private static final Pattern MEASURED =
            Pattern.compile("(?m)^([A-Za-z_][\\w@\\[\\]().-]*)\\s+=\\s+(-?[\\d.]+(?:[eE][-+]?\\d+)?)");
    private static final Pattern HARMONIC =
            Pattern.compile("(?m)^ (\\d+)\\s+[\\d.eE+]+\\s+(-?[\\d.]+(?:[eE][-+]?\\d+)?)\\s");

    private final Map<String, List<Double>> values = new HashMap<>();
    private final List<Double> harmonicsV = new ArrayList<>();
    private final String printed;
    private final List<String> waves;

    private Ngspice(String printed, List<String> waves) {
        this.printed = printed;
        this.waves = waves;
        Matcher measured = MEASURED.matcher(printed);
        while (measured.find()) {
            values.computeIfAbsent(measured.group(1), key -> new ArrayList<>())
                    .add(Double.parseDouble(measured.group(2)));
        }
        Matcher harmonic = HARMONIC.matcher(printed);
        while (harmonic.find()) {
            harmonicsV.add(Double.parseDouble(harmonic.group(2)));
        }
    }

    /**
     * Runs a netlist.
     *
     * @param netlist name of a resource beside parts.lib
     * @param parameters values that replace those of {@code .param} lines
     * @param blocks texts that replace {@code @name@} marks, and {@code @name=default@} marks, which may be left out
     */
    public static Ngspice run(String netlist, Map<String, String> parameters, Map<String, String> blocks) {
        try {
            Path folder = Files.createTempDirectory("railproof-ngspice");
            Files.writeString(folder.resolve("parts.lib"), resource("parts.lib"));
            String text = resource(netlist);
            for (Map.Entry<String, String> block : blocks.entrySet()) {
                text = text.replaceAll("@" + block.getKey() + "(=[^@]*)?@", Matcher.quoteReplacement(block.getValue()));
            }
            text = text.replaceAll("@\\w+=([^@]*)@", "$1");
            for (Map.Entry<String, String> parameter : parameters.entrySet()) {
                Matcher place = Pattern.compile("(?m)^(\\.param .*\\b" + parameter.getKey() + "=)\\S+")
                        .matcher(text);
                if (!place.find()) {
                    throw new IllegalArgumentException(netlist + " has no parameter " + parameter.getKey());
                }
                text = place.replaceFirst("$1" + parameter.getValue());
            }
            Path file = folder.resolve(netlist);
            Files.writeString(file, text);
            Path output = folder.resolve("printed.txt");
            Process process = new ProcessBuilder("ngspice", "-b", netlist)
                    .directory(folder.toFile())
                    .redirectErrorStream(true)
                    .redirectOutput(output.toFile())
                    .start();
            if (!process.waitFor(5, TimeUnit.MINUTES)) {
                process.destroyForcibly();
                throw new IllegalStateException("ngspice did not end: " + netlist);
            }
            String printed = Files.readString(output);
            Path wrote = folder.resolve(WAVES);
            List<String> waves = Files.exists(wrote) ? Files.readAllLines(wrote) : List.of();
            for (Path each : List.of(file, output, wrote, folder.resolve("parts.lib"), folder)) {
                Files.deleteIfExists(each);
            }
            return new Ngspice(printed, waves);
        } catch (IOException e) {
            throw new UncheckedIOException("is the package \"ngspice\" installed?", e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        }
    }

    private static String resource(String name) throws IOException {
        try (InputStream in = Ngspice.class.getResourceAsStream("/ngspice/" + name)) {
            if (in == null) {
                throw new IllegalArgumentException("no resource " + name);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    /** The value printed for a name; the last one if it was printed several times. */
    public double value(String name) {
        List<Double> all = all(name);
        return all.get(all.size() - 1);
    }

    /** One of the vectors that the netlist wrote with {@code wrdata waves.txt}, by its place there, from 0. */
    public double[] wave(int vector) {
        return column(2 * vector + 1);
    }

    /** The instants of the vectors that the netlist wrote, s. */
    public double[] instantsS() {
        return column(0);
    }

    private double[] column(int column) {
        if (waves.isEmpty()) {
            throw new IllegalStateException("ngspice wrote no " + WAVES + ":\n" + printed);
        }
        return waves.stream()
                .mapToDouble(line -> Double.parseDouble(line.strip().split("\\s+", -1)[column]))
                .toArray();
    }

    /** All values printed for a name, in order. */
    List<Double> all(String name) {
        List<Double> all = values.get(name);
        if (all == null) {
            throw new IllegalStateException("ngspice printed no " + name + ":\n" + printed);
        }
        return all;
    }

    /** Time that the analyses took by the program's own account, s; the netlist must ask for it with {@code rusage}. */
    double analysisS() {
        Matcher used =
                Pattern.compile("Total analysis time \\(seconds\\) = ([\\d.]+)").matcher(printed);
        if (!used.find()) {
            throw new IllegalStateException("ngspice printed no times:\n" + printed);
        }
        return Double.parseDouble(used.group(1));
    }

    /** Amplitude of a harmonic of the first or second analysed vector, V. */
    public double harmonicV(int vector, int order) {
        int index = vector * 10 + order;
        if (harmonicsV.size() <= index) {
            throw new IllegalStateException("ngspice printed no harmonics:\n" + printed);
        }
        return harmonicsV.get(index);
    }
}

package railproof.diagnosis;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.random.RandomGenerator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.signal.Cycles;
import railproof.signal.Reservoir;
import railproof.signal.Ripple;
import railproof.signal.RippleNoise;

/** A bench around the circuit simulator: runs one unit through {@code diagnose.cir} and reads it as a rig would. */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
final class SpiceBench {
    static final double LINE_HZ = 60;
    private static final double RATE_HZ = 10_000;
    private static final int WINDOW = (int) Math.round(4 * RATE_HZ / LINE_HZ);
    private static final Pattern DIP = Pattern.compile("(?m)^(dip|after)\\s+=\\s+(\\S+)");

    /** Channels of a good bench: gain 0.03 % and 0.05 %, offset 1 and 4 mV, noise 0.4 and 1 mV r.m.s. */
    private static final double OUT_NOISE_V = 0.4e-3;

    private static final double SINK_K_PER_W = 2.2;
    private static final double IN_NOISE_V = 1e-3;

    /**
     * The waveforms of one unit, V.
     *
     * @param nodes raw, output, base, reference, tap at 10 kHz
     * @param dipV how far the output dips in the first millisecond after the load step, below the next two
     */
    @SuppressWarnings("ArrayRecordComponent") // a bundle that nobody compares
    record Waves(double[][] nodes, double dipV) {}

    private SpiceBench() {}

    static Waves run(SpiceUnit unit) throws IOException, InterruptedException {
        Waves waves = run(text("diagnose.cir").replace("@parameters@", unit.parameterText()));
        Double amps = unit.parameters().get("oscillation");
        return amps == null ? waves : oscillating(unit, waves, amps);
    }

    /** The same with the loop driven at 37 kHz while at full load; a short run with a fine step, laid into the long one. */
    private static Waves oscillating(SpiceUnit unit, Waves waves, double amps)
            throws IOException, InterruptedException {
        String text = text("diagnose.cir")
                .replace("@parameters@", unit.parameterText())
                .replace("Bload out 0", "Iring out 0 SIN(0 " + 8 * amps + " 37.3k)\nBload out 0")
                .replaceFirst("Viset .*", "Viset iset 0 {rated}")
                .replace("tran 100u 1.52 0 100u uic", "tran 100u 0.16 0.0933 4u uic")
                .replaceAll("(?m)^meas tran .*", "");
        double[][] fine = run(text).nodes();
        double[][] nodes = waves.nodes();
        for (int n = 0; n < nodes.length; n++) {
            int count = Math.min(fine[n].length, WINDOW);
            System.arraycopy(fine[n], fine[n].length - count, nodes[n], at(0.48) - count, count);
        }
        return waves;
    }

    private static Waves run(String netlist) throws IOException, InterruptedException {
        Path folder = Files.createTempDirectory("railproof-diagnose");
        try {
            Files.writeString(folder.resolve("unit.cir"), netlist);
            Path printed = folder.resolve("printed.txt");
            Process process = new ProcessBuilder("ngspice", "-b", "unit.cir")
                    .directory(folder.toFile())
                    .redirectErrorStream(true)
                    .redirectOutput(printed.toFile())
                    .start();
            if (!process.waitFor(3, TimeUnit.MINUTES)) {
                process.destroyForcibly();
                throw new IOException("ngspice did not end");
            }
            String said = Files.readString(printed);
            Path waves = folder.resolve("waves.raw");
            if (!Files.exists(waves)) {
                throw new IOException("ngspice wrote no waveforms:\n" + said + "\n" + netlist);
            }
            Matcher dip = DIP.matcher(said);
            double dipV = 0;
            while (dip.find()) {
                dipV += (dip.group(1).equals("dip") ? -1 : 1) * Double.parseDouble(dip.group(2));
            }
            return new Waves(read(Files.readAllBytes(waves)), Math.max(0, dipV));
        } finally {
            try (var files = Files.list(folder)) {
                for (Path each : files.toList()) {
                    Files.delete(each);
                }
            }
            Files.delete(folder);
        }
    }

    /** A binary raw file: a text header, then time and five vectors per point as doubles. */
    private static double[][] read(byte[] file) {
        String mark = "Binary:\n";
        String head = new String(file, 0, Math.min(file.length, 4000), StandardCharsets.ISO_8859_1);
        int start = head.indexOf(mark) + mark.length();
        Matcher points = Pattern.compile("No. Points: (\\d+)").matcher(head);
        if (start < mark.length() || !points.find()) {
            throw new IllegalStateException("not a raw file: " + head);
        }
        int count = Integer.parseInt(points.group(1));
        ByteBuffer data = ByteBuffer.wrap(file, start, file.length - start).order(ByteOrder.LITTLE_ENDIAN);
        double[][] nodes = new double[5][count];
        for (int i = 0; i < count; i++) {
            data.getDouble();
            for (double[] node : nodes) {
                node[i] = data.getDouble();
            }
        }
        return nodes;
    }

    private static String text(String name) throws IOException {
        try (InputStream in = SpiceBench.class.getResourceAsStream("/ngspice/" + name)) {
            if (in == null) {
                throw new IOException("no resource " + name);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static int at(double timeS) {
        return (int) Math.round(timeS * RATE_HZ);
    }

    /** All readings of a unit, with the bench's own errors drawn from {@code random}. */
    static Readings read(SpiceUnit unit, Waves waves, RandomGenerator random) {
        Map<Feature, Measured> into = new LinkedHashMap<>();
        double[] gain = new double[5];
        double[] offsetV = new double[5];
        double[] noiseV = new double[5];
        for (int n = 0; n < 5; n++) {
            boolean out = n == 1;
            gain[n] = 1 + (out ? 3e-4 : 5e-4) * random.nextGaussian();
            offsetV[n] = (out ? 1e-3 : 4e-3) * random.nextGaussian();
            noiseV[n] = out ? OUT_NOISE_V : IN_NOISE_V;
        }
        double[] ends = {0.20, 0.34, 0.48, 0.62, 0.76, 0.90};
        for (int c = 0; c < ends.length; c++) {
            double[][] seen = new double[5][];
            for (int n = 0; n < 5; n++) {
                seen[n] = Arrays.copyOfRange(waves.nodes()[n], at(ends[c]) - WINDOW, at(ends[c]) + 1);
                for (int i = 0; i < seen[n].length; i++) {
                    seen[n][i] = gain[n] * seen[n][i] + offsetV[n] + noiseV[n] * random.nextGaussian();
                }
            }
            condition(into, Condition.values()[c], seen);
        }
        heatSink(into, waves, random);
        loadTests(into, waves);
        double lineRatio =
                unit.fault().filter(f -> f == PartFault.LINE_LOW).isPresent() ? 0.9 - 0.2 * unit.severityRatio() : 1;
        put(into, Sight.LINE, Condition.FULL_LOAD, lineRatio * (1 + 0.002 * random.nextGaussian()), 0.002);
        if (unit.parameters().containsKey("oscillation")) {
            // driven at full load only: what the other windows would show is not known
            for (Condition other : new Condition[] {Condition.HALF_LOAD, Condition.LOW_LINE, Condition.HIGH_LINE}) {
                for (Sight sight : new Sight[] {Sight.OUTPUT_RIPPLE, Sight.OUTPUT_REST, Sight.OUTPUT_FAST}) {
                    into.remove(new Feature(sight, other));
                }
            }
        }
        return new Readings(into);
    }

    private static void condition(Map<Feature, Measured> into, Condition at, double[][] seen) {
        Cycles window = Cycles.in(seen[0].length, RATE_HZ, LINE_HZ);
        double outV = window.mean(seen[1]);
        put(into, Sight.OUTPUT, at, outV, 4e-3);
        put(into, Sight.RAW, at, window.mean(seen[0]), 0.012);
        put(into, Sight.BASE, at, window.mean(seen[2]) - outV, 0.01);
        put(into, Sight.REFERENCE, at, window.mean(seen[3]), 5e-3);
        put(into, Sight.SENSE_TAP, at, window.mean(seen[4]), 5e-3);
        put(into, Sight.OUTPUT_RIPPLE, at, peakToPeak(seen[1], window, OUT_NOISE_V), 3e-4);
        put(into, Sight.RAW_RIPPLE, at, peakToPeak(seen[0], window, IN_NOISE_V), 1e-3);
        WaveReadings.output(into, at, new WaveReadings.Trace(seen[1], RATE_HZ, OUT_NOISE_V), LINE_HZ);
        WaveReadings.raw(
                into, at, new WaveReadings.Trace(seen[0], RATE_HZ, IN_NOISE_V), Reservoir.Rectifier.FULL_WAVE, LINE_HZ);
    }

    private static double peakToPeak(double[] v, Cycles window, double noiseV) {
        double pp = Ripple.of(v, window).pp().value();
        return Math.max(0, pp - RippleNoise.excessPpV(v, window, noiseV));
    }

    /** What the pass stage turns into heat at full load, on a sink of the nominal size or so, in air of 25 °C or so. */
    private static void heatSink(Map<Feature, Measured> into, Waves waves, RandomGenerator random) {
        double lostW = 0;
        for (int i = at(0.90) - WINDOW; i < at(0.90); i++) {
            double outV = Math.max(0, waves.nodes()[1][i]);
            lostW += (waves.nodes()[0][i] - outV) * SpiceUnit.RATED_A * Math.min(1, outV / 0.6) / WINDOW;
        }
        double sinkC = 25 + 3 * random.nextGaussian() + SINK_K_PER_W * (0.85 + 0.3 * random.nextDouble()) * lostW;
        put(into, Sight.HEAT_SINK, Condition.WARM, sinkC, 1);
    }

    private static void loadTests(Map<Feature, Measured> into, Waves waves) {
        double[] out = waves.nodes()[1];
        double emptyV = mean(out, 1.12, 1.14);
        double dropV = 0.95 * Math.min(emptyV, 12);
        double limitA = SpiceUnit.MOST_A;
        int cycle = at(1 / (2 * LINE_HZ));
        for (int i = at(1.14); i + cycle < at(1.44); i++) {
            double meanV = mean(out, i / RATE_HZ, (i + cycle) / RATE_HZ);
            if (meanV < dropV) {
                limitA = SpiceUnit.MOST_A * (i + 0.5 * cycle - at(1.14)) / at(0.30);
                break;
            }
        }
        put(into, Sight.LIMIT, Condition.FULL_LOAD, limitA, 0.02 * limitA);
        double shortA = mean(out, 1.50, 1.515) / SpiceUnit.SHORT_OHM;
        put(into, Sight.SHORT, Condition.FULL_LOAD, shortA, 0.01 * shortA);
        put(into, Sight.UNDERSHOOT, Condition.FULL_LOAD, waves.dipV(), 2e-3);
        double lowestV = Double.POSITIVE_INFINITY;
        for (double from = 0.905; from < 0.94; from += 1 / LINE_HZ) {
            lowestV = Math.min(lowestV, mean(out, from, from + 1 / LINE_HZ));
        }
        put(into, Sight.OUTPUT_DIP, Condition.FULL_LOAD, Math.max(0, mean(out, 0.85, 0.90) - lowestV), 1e-3);
    }

    private static double mean(double[] v, double fromS, double toS) {
        return Arrays.stream(v, at(fromS), Math.min(v.length, at(toS)))
                .average()
                .orElse(0);
    }

    private static void put(Map<Feature, Measured> into, Sight sight, Condition at, double value, double u) {
        Feature.of(sight, at).ifPresent(feature -> into.put(feature, Measured.of(value, u, Unit.VOLT)));
    }
}

package railproof.diagnosis;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.PartList;
import railproof.profile.Profile;
import railproof.profile.ProfileFile;
import railproof.profile.Rail;
import railproof.record.DictionaryFile;

/**
 * The 12 V bench supply: its profile, its fault dictionary (made once per build), and what ngspice says its nodes show
 * with one fault each ({@code fault-dictionary.csv}, made from {@code supply.cir}).
 */
public final class Bench12V {
    /** Data directory of these tests, so that the dictionary is made once. */
    public static final Path DATA =
            Path.of(System.getProperty("railproof.build.dir", "target")).resolve("diagnosis-tests");

    private static final double METER_RATIO = 0.005;

    private Bench12V() {}

    static Profile profile() {
        try {
            return ProfileFile.read(Path.of("rigs/profiles/bench-12v.toml")).profile();
        } catch (BadFileException e) {
            throw new IllegalStateException(e);
        }
    }

    /** The rail as its profile has it. */
    static Rail rail() {
        return profile().rails().get(0);
    }

    /** The same with the least load of the outside dictionary, 20 mA. */
    static Rail loadedRail() {
        return changed(rail().parts());
    }

    /** The same with other part values, or none. */
    static Rail changed(Optional<PartList> parts) {
        Rail rail = rail();
        return new Rail(
                rail.name(),
                rail.nominalV(),
                rail.ratedCurrentA(),
                0.02,
                rail.overVoltageV(),
                rail.limitShape(),
                rail.maxProbeCurrentA(),
                rail.limits(),
                parts);
    }

    static Dictionary dictionary() {
        return dictionary(loadedRail());
    }

    static Dictionary dictionary(Rail rail) {
        return DictionaryFile.of(DATA, rail, profile().line(), () -> {});
    }

    /** Names of the rows of the outside fault dictionary, each once. */
    static List<String> outsideNames() {
        return rows().stream().map(row -> row[0]).distinct().toList();
    }

    /** The fault of a name there; empty for the healthy one. */
    static Optional<PartFault> outsideFault(String name) {
        return rows().stream().filter(row -> row[0].equals(name)).findFirst().flatMap(row -> Arrays.stream(
                        PartFault.values())
                .filter(fault -> fault.label().equals(row[1]))
                .findFirst());
    }

    /** What a meter would read of it at no, half and full load, at some nodes. */
    static Readings outside(String name, Set<ProbeNode> nodes) {
        Readings readings = Readings.none();
        for (String[] row : rows()) {
            double loadA = Double.parseDouble(row[2]);
            if (!row[0].equals(name) || loadA > 2) {
                continue;
            }
            Condition at = loadA < 0.1 ? Condition.NO_LOAD : loadA < 1.5 ? Condition.HALF_LOAD : Condition.FULL_LOAD;
            double outV = Double.parseDouble(row[6]);
            if (at != Condition.NO_LOAD) {
                readings = with(readings, Sight.RAW_RIPPLE, at, Double.parseDouble(row[4]), 0.03);
                readings = with(readings, Sight.RAW_LINE, at, Double.parseDouble(row[5]), 0.05);
                readings = with(readings, Sight.OUTPUT_LINE, at, Double.parseDouble(row[8]), 0.05);
                readings = with(readings, Sight.OUTPUT_RIPPLE, at, Double.parseDouble(row[7]), 0.05);
            }
            readings = with(readings, Sight.OUTPUT, at, outV, METER_RATIO);
            readings = with(readings, Sight.RAW, at, Double.parseDouble(row[3]), METER_RATIO);
            double baseV = Double.parseDouble(row[9]);
            readings = readings.with(
                    Feature.of(Sight.BASE, at).orElseThrow(),
                    Measured.of(baseV - outV, 0.01 + 0.005 * baseV, Unit.VOLT));
            readings = with(readings, Sight.REFERENCE, at, Double.parseDouble(row[10]), METER_RATIO);
            readings = with(readings, Sight.SENSE_TAP, at, Double.parseDouble(row[11]), METER_RATIO);
        }
        return readings.only(nodes);
    }

    static Readings with(Readings readings, Sight sight, Condition at, double value, double uRatio) {
        return readings.with(
                Feature.of(sight, at).orElseThrow(), Measured.of(value, uRatio * Math.abs(value) + 1e-3, sight.unit()));
    }

    private static List<String[]> rows() {
        try (InputStream in = Bench12V.class.getResourceAsStream("/ngspice/fault-dictionary.csv")) {
            if (in == null) {
                throw new IllegalStateException("no fault-dictionary.csv");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .skip(1)
                    .map(line -> line.split(",", -1))
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

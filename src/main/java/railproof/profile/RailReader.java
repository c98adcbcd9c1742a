package railproof.profile;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import railproof.toml.Labels;
import railproof.toml.TomlSection;

/** Reads one {@code [[rails]]} table. */
final class RailReader {
    private static final double LARGEST_V = 1000;
    private static final double LARGEST_A = 1000;
    private static final double SMALLEST_DIMENSIONLESS = 1e-6;
    private static final Map<String, LimitShape> SHAPES = Labels.of(LimitShape.values());
    private static final Map<String, Convention> PERCENTAGES = new TreeMap<>(Map.of(
            "full-load", Convention.OF_FULL_LOAD, "no-load", Convention.OF_NO_LOAD, "nominal", Convention.OF_NOMINAL));

    private RailReader() {}

    static Rail rail(TomlSection section, Program program) {
        double nominalV = section.number("nominal_V", -LARGEST_V, LARGEST_V);
        if (section.good("nominal_V") && Math.abs(nominalV) < 0.5) {
            section.problem("nominal_V", shown(nominalV) + " is too small; the magnitude must be 0.5 to 1000");
        }
        double ratedA = section.number("rated_current_A", SMALLEST_DIMENSIONLESS, LARGEST_A);
        double minimumA = section.number("minimum_load_A", 0, LARGEST_A, 0);
        double overVoltageV = section.number("over_voltage_V", SMALLEST_DIMENSIONLESS, 2 * LARGEST_V);
        LimitShape shape = section.choice("limit_shape", SHAPES);
        double probeA = section.number("max_probe_current_A", SMALLEST_DIMENSIONLESS, LARGEST_A);
        if (section.good("minimum_load_A", "rated_current_A") && minimumA >= ratedA) {
            section.problem("minimum_load_A", shown(minimumA) + " is not below rated_current_A, " + shown(ratedA));
        }
        if (section.good("max_probe_current_A", "rated_current_A") && probeA <= ratedA) {
            section.problem("max_probe_current_A", shown(probeA) + " is not above rated_current_A, " + shown(ratedA));
        }
        String name = section.text("name");
        Optional<TomlSection> limitSection = section.table("limits", true);
        RailLimits limits = limitSection.map(table -> limits(table, program)).orElse(nothingJudged());
        Optional<PartList> parts = section.table("parts", false).map(table -> PartListReader.read(table, shape));
        Rail rail = new Rail(name, nominalV, ratedA, minimumA, overVoltageV, shape, probeA, limits, parts);
        limitSection.ifPresent(table -> requireConsistent(section, table, rail));
        return rail;
    }

    private static RailLimits limits(TomlSection section, Program program) {
        Optional<Band> output = band(section, "output_V", -LARGEST_V, LARGEST_V);
        if (output.isEmpty() && section.good("output_V")) {
            section.problem("output_V", "is missing; it must be a list of two numbers, lowest and highest");
        }
        Optional<Double> peakToPeakV = section.optionalNumber("ripple_pp_max_V", SMALLEST_DIMENSIONLESS, LARGEST_V);
        Optional<Double> rmsV = section.optionalNumber("ripple_rms_max_V", SMALLEST_DIMENSIONLESS, LARGEST_V);
        if (peakToPeakV.isPresent() && rmsV.isPresent() && rmsV.get() > peakToPeakV.get()) {
            section.problem(
                    "ripple_rms_max_V",
                    shown(rmsV.get()) + " is above the peak-to-peak limit, " + shown(peakToPeakV.get())
                            + "; no waveform can be so");
        }
        return new RailLimits(
                output.orElse(Band.atLeast(Double.NEGATIVE_INFINITY)),
                regulation(section, "load_regulation"),
                regulation(section, "line_regulation"),
                peakToPeakV,
                rmsV,
                band(section, "current_limit_A", 0, LARGEST_A),
                band(section, "short_circuit_A", 0, LARGEST_A),
                DynamicLimitsReader.read(section, program));
    }

    private static Optional<Band> band(TomlSection section, String key, double low, double high) {
        if (!section.has(key)) {
            return Optional.empty();
        }
        List<Double> ends = section.numbers(key, low, high, 2, 2);
        if (!section.good(key)) {
            return Optional.empty();
        }
        if (ends.get(0) > ends.get(1)) {
            section.problem(
                    key, "the lowest comes first; found " + shown(ends.get(0)) + " before " + shown(ends.get(1)));
            return Optional.empty();
        }
        return Optional.of(new Band(ends.get(0), ends.get(1)));
    }

    private static Optional<RegulationLimit> regulation(TomlSection section, String key) {
        return section.table(key, false).map(table -> {
            Optional<Double> percent = table.optionalNumber("max_pct", SMALLEST_DIMENSIONLESS, 100);
            Optional<Double> volts = table.optionalNumber("max_V", SMALLEST_DIMENSIONLESS, LARGEST_V);
            if (table.has("max_V") == table.has("max_pct")) {
                table.problem("needs either max_pct, with of, or max_V");
                table.mayHave("of");
            } else if (table.has("max_V")) {
                if (table.has("of")) {
                    table.problem("of", "belongs to max_pct; a limit in volts is of nothing");
                }
                return new RegulationLimit(volts.orElse(1.0), Convention.IN_VOLTS);
            }
            return new RegulationLimit(
                    percent.orElse(1.0) / 100, table.choice("of", PERCENTAGES, Convention.OF_FULL_LOAD));
        });
    }

    private static void requireConsistent(TomlSection rail, TomlSection limits, Rail read) {
        Band output = read.limits().outputV();
        boolean bandRead = limits.good("output_V") && Double.isFinite(output.low());
        if (bandRead && rail.good("nominal_V") && !output.contains(read.nominalV())) {
            limits.problem(
                    "output_V",
                    shown(output.low()) + " to " + shown(output.high()) + " does not contain nominal_V, "
                            + shown(read.nominalV()));
        }
        double farthestV = Math.max(Math.abs(output.low()), Math.abs(output.high()));
        if (bandRead && rail.good("over_voltage_V") && read.overVoltageV() <= farthestV) {
            rail.problem(
                    "over_voltage_V",
                    shown(read.overVoltageV()) + " is not beyond the allowed output, " + shown(farthestV)
                            + " (a magnitude, also for a negative rail)");
        }
        if (limits.good("current_limit_A")) {
            read.limits().currentLimitA().ifPresent(band -> requireReachable(rail, limits, read, band));
        }
    }

    private static void requireReachable(TomlSection rail, TomlSection limits, Rail read, Band band) {
        if (rail.good("limit_shape") && read.limitShape() == LimitShape.NONE) {
            limits.problem("current_limit_A", "a rail with limit_shape \"none\" has no current limit to judge");
        }
        if (rail.good("rated_current_A") && band.low() < read.ratedCurrentA()) {
            limits.problem(
                    "current_limit_A",
                    shown(band.low()) + " is below rated_current_A, " + shown(read.ratedCurrentA())
                            + ": full load could be limited");
        }
        if (rail.good("max_probe_current_A") && band.high() > read.maxProbeCurrentA()) {
            limits.problem(
                    "current_limit_A",
                    shown(band.high()) + " is above max_probe_current_A, " + shown(read.maxProbeCurrentA())
                            + ": the search would never get there");
        }
        Optional<Band> shorted = read.limits().shortCircuitA();
        if (read.limitShape() == LimitShape.FOLDBACK
                && shorted.isPresent()
                && shorted.get().high() >= band.high()) {
            limits.problem(
                    "short_circuit_A",
                    shown(shorted.get().high()) + " is not below the current limit, " + shown(band.high())
                            + "; a foldback rail gives less into a short");
        }
    }

    private static RailLimits nothingJudged() {
        return new RailLimits(
                Band.atLeast(Double.NEGATIVE_INFINITY),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                DynamicLimits.NONE);
    }

    static String shown(double value) {
        return value == Math.rint(value) ? String.valueOf((long) value) : String.valueOf(value);
    }
}

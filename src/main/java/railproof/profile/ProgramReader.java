package railproof.profile;

import java.time.Duration;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import railproof.toml.Labels;
import railproof.toml.TomlSection;

/** Reads which procedures {@code [plan]} asks for, and the tables of each; everything has a default. */
final class ProgramReader {
    private static final Map<String, Procedure> LABELS = Labels.of(Procedure.values());
    private static final Program DEFAULT = Program.DEFAULT;

    private ProgramReader() {}

    static Program read(TomlSection plan) {
        return new Program(
                procedures(plan),
                plan.flag("sweep_back", DEFAULT.sweepBack()),
                plan.number("others_load_pct", 0, 100, 100 * DEFAULT.othersLoadRatio()) / 100,
                optional(plan.optionalNumber("sum_power_max_W", 0.1, 10_000)),
                fractions(plan, "line_load_fractions", DEFAULT.lineLoadFractions()),
                plan.number("dropout_fall_pct", 0.1, 20, 100 * DEFAULT.dropoutRatio()) / 100,
                plan.table("first_power_up", false).map(ProgramReader::first).orElse(DEFAULT.first()),
                plan.table("load_step", false).map(ProgramReader::step).orElse(DEFAULT.step()),
                plan.table("start_up", false).map(ProgramReader::start).orElse(DEFAULT.start()),
                plan.table("hold_up", false).map(ProgramReader::holdUp).orElse(DEFAULT.holdUp()));
    }

    /** As written in files. */
    static String label(Procedure procedure) {
        return LABELS.entrySet().stream()
                .filter(entry -> entry.getValue() == procedure)
                .map(Map.Entry::getKey)
                .findFirst()
                .orElseThrow();
    }

    private static Set<Procedure> procedures(TomlSection plan) {
        if (!plan.has("procedures")) {
            return DEFAULT.procedures();
        }
        Set<Procedure> procedures = EnumSet.noneOf(Procedure.class);
        for (String label : plan.texts("procedures", LABELS.size())) {
            Procedure procedure = LABELS.get(label);
            if (procedure == null) {
                plan.problem(
                        "procedures",
                        "\"" + label + "\" is no procedure; there are: " + String.join(", ", LABELS.keySet()));
            } else if (!procedures.add(procedure)) {
                plan.problem("procedures", "\"" + label + "\" stands twice");
            }
        }
        return procedures;
    }

    private static OptionalDouble optional(Optional<Double> value) {
        return value.map(OptionalDouble::of).orElse(OptionalDouble.empty());
    }

    private static Program.FirstPlan first(TomlSection table) {
        return new Program.FirstPlan(
                fractions(table, "line_fractions", DEFAULT.first().lineFractions()),
                optional(table.optionalNumber("line_current_max_A", 1e-3, 100)));
    }

    private static Program.StepPlan step(TomlSection table) {
        Program.StepPlan otherwise = DEFAULT.step();
        double lowRatio = table.number("low_pct", 0, 100, 100 * otherwise.lowRatio()) / 100;
        double highRatio = table.number("high_pct", 0, 100, 100 * otherwise.highRatio()) / 100;
        if (table.good("low_pct", "high_pct") && lowRatio >= highRatio) {
            table.problem(
                    table.has("low_pct") ? "low_pct" : "high_pct",
                    "the lower level, " + RailReader.shown(100 * lowRatio) + ", is not below the upper, "
                            + RailReader.shown(100 * highRatio));
        }
        return new Program.StepPlan(
                lowRatio,
                highRatio,
                table.number("band_pct", 0.01, 20, 100 * otherwise.bandRatio()) / 100,
                record(table, otherwise.record()));
    }

    private static Program.StartPlan start(TomlSection table) {
        return new Program.StartPlan(
                record(table, DEFAULT.start().record()),
                table.duration(
                        "off_s",
                        Duration.ofMillis(100),
                        Duration.ofMinutes(10),
                        DEFAULT.start().off()));
    }

    private static Program.HoldUpPlan holdUp(TomlSection table) {
        return new Program.HoldUpPlan(
                record(table, DEFAULT.holdUp().record()),
                table.integer("phases", 1, 24, DEFAULT.holdUp().phases()));
    }

    private static Duration record(TomlSection table, Duration otherwise) {
        return table.duration("record_ms", Duration.ofMillis(20), Duration.ofSeconds(20), otherwise);
    }

    private static List<Double> fractions(TomlSection table, String key, List<Double> otherwise) {
        if (!table.has(key)) {
            return otherwise;
        }
        List<Double> fractions = table.numbers(key, 0, 1, 1, 20);
        if (!table.good(key)) {
            return otherwise;
        }
        boolean ascending = fractions.get(0) > 0 && fractions.get(fractions.size() - 1) == 1;
        for (int i = 1; i < fractions.size(); i++) {
            ascending &= fractions.get(i) > fractions.get(i - 1);
        }
        if (!ascending) {
            table.problem(key, "must start above 0, rise from each to the next and end at 1; found " + fractions);
            return otherwise;
        }
        return fractions;
    }
}

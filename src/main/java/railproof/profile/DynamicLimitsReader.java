package railproof.profile;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import railproof.toml.TomlSection;

/** Reads what {@code [rails.limits]} says of changes; a limit whose procedure is not run is a problem. */
final class DynamicLimitsReader {
    private static final double LONGEST_MS = 60_000;
    private static final double LARGEST_V = 1000;
    private static final Map<String, Procedure> NEEDS = new TreeMap<>(Map.of(
            "hysteresis_max_pct", Procedure.LOAD_SWEEP,
            "recovery_max_ms", Procedure.LOAD_STEP,
            "step_deviation_max_V", Procedure.LOAD_STEP,
            "start_up_max_ms", Procedure.START_UP,
            "start_up_overshoot_max_V", Procedure.START_UP,
            "hold_up_min_ms", Procedure.HOLD_UP,
            "dropout_line_max_V", Procedure.DROPOUT_LINE,
            "overload_recovery_max_ms", Procedure.CURRENT_LIMIT,
            "cross_regulation_max_pct", Procedure.CROSS_REGULATION,
            "warming_max_pct", Procedure.LOAD_SWEEP));

    private DynamicLimitsReader() {}

    static DynamicLimits read(TomlSection section, Program program) {
        List<String> set = new ArrayList<>();
        NEEDS.keySet().stream().filter(section::has).forEach(set::add);
        for (String key : set) {
            Procedure needed = NEEDS.getOrDefault(key, Procedure.LOAD_SWEEP);
            if (!program.has(needed)) {
                section.problem(
                        key,
                        "needs \"" + ProgramReader.label(needed)
                                + "\" in plan.procedures: what is not measured cannot be judged");
            }
        }
        if (section.has("hysteresis_max_pct") && !program.sweepBack()) {
            section.problem("hysteresis_max_pct", "needs sweep_back = true in [plan]: there is no way back otherwise");
        }
        return new DynamicLimits(
                milliseconds(section, "recovery_max_ms"),
                section.optionalNumber("step_deviation_max_V", 1e-6, LARGEST_V),
                milliseconds(section, "start_up_max_ms"),
                section.optionalNumber("start_up_overshoot_max_V", 1e-6, LARGEST_V),
                milliseconds(section, "hold_up_min_ms"),
                section.optionalNumber("dropout_line_max_V", 1, 500),
                milliseconds(section, "overload_recovery_max_ms"),
                ratio(section, "cross_regulation_max_pct"),
                ratio(section, "warming_max_pct"),
                ratio(section, "hysteresis_max_pct"));
    }

    private static Optional<Double> ratio(TomlSection section, String key) {
        return section.optionalNumber(key, 1e-4, 100).map(percent -> percent / 100);
    }

    private static Optional<Double> milliseconds(TomlSection section, String key) {
        return section.optionalNumber(key, 1e-3, LONGEST_MS).map(ms -> ms / 1e3);
    }
}

package railproof.profile;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import railproof.toml.TomlSection;

/** Reads the {@code [plan]} table; everything in it has a default. */
final class PlanReader {
    /** Eleven points: enough to see the knee of a bad rail, and the run stays short. Common practice, no source. */
    private static final List<Double> DEFAULT_FRACTIONS =
            List.of(0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0);

    private static final Plan DEFAULT = new Plan(
            DEFAULT_FRACTIONS,
            6,
            2e-4,
            Duration.ofSeconds(10),
            0.02,
            Duration.ofMillis(500),
            Duration.ofSeconds(3),
            Program.DEFAULT,
            BurnInPlan.DEFAULT);

    private PlanReader() {}

    static Plan plan(Optional<TomlSection> section) {
        return section.map(PlanReader::plan).orElse(DEFAULT);
    }

    private static Plan plan(TomlSection section) {
        return new Plan(
                fractions(section),
                section.integer("line_cycles", 2, 100, DEFAULT.lineCycles()),
                section.number("settle_band_pct", 1e-4, 5, 100 * DEFAULT.settleBandRatio()) / 100,
                section.duration(
                        "settle_timeout_s", Duration.ofMillis(100), Duration.ofMinutes(10), DEFAULT.settleTimeout()),
                section.number("limit_step_pct", 0.1, 25, 100 * DEFAULT.limitStepRatio()) / 100,
                section.duration("limit_dwell_ms", Duration.ofMillis(20), Duration.ofSeconds(10), DEFAULT.limitDwell()),
                section.duration("limit_cool_down_s", Duration.ZERO, Duration.ofMinutes(10), DEFAULT.limitCoolDown()),
                ProgramReader.read(section),
                BurnInReader.plan(section.table("burn_in", false)));
    }

    private static List<Double> fractions(TomlSection section) {
        if (!section.has("load_fractions")) {
            return DEFAULT_FRACTIONS;
        }
        List<Double> fractions = section.numbers("load_fractions", 0, 1, 2, 50);
        if (!section.good("load_fractions")) {
            return DEFAULT_FRACTIONS;
        }
        boolean ascending = true;
        for (int i = 1; i < fractions.size(); i++) {
            ascending &= fractions.get(i) > fractions.get(i - 1);
        }
        if (!ascending || fractions.get(0) != 0 || fractions.get(fractions.size() - 1) != 1) {
            section.problem(
                    "load_fractions", "must start at 0, end at 1 and rise from each to the next; found " + fractions);
        }
        return fractions;
    }
}

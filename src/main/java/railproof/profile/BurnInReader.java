package railproof.profile;

import java.time.Duration;
import java.util.Optional;
import railproof.toml.TomlSection;

/** Reads the {@code [plan.burn_in]} table; everything in it has a default. */
final class BurnInReader {
    private static final BurnInPlan DEFAULT = BurnInPlan.DEFAULT;
    private static final double SECONDS_PER_HOUR = 3600;

    private BurnInReader() {}

    static BurnInPlan plan(Optional<TomlSection> section) {
        return section.map(BurnInReader::plan).orElse(DEFAULT);
    }

    private static BurnInPlan plan(TomlSection section) {
        double hours = section.number(
                "hours", 0.01, BurnInPlan.MOST_HOURS, DEFAULT.time().toSeconds() / SECONDS_PER_HOUR);
        Duration sampleEvery = section.duration(
                "sample_every_s", Duration.ofSeconds(1), Duration.ofMinutes(10), DEFAULT.sampleEvery());
        Duration readingEvery = section.duration(
                "reading_every_s", Duration.ofSeconds(10), Duration.ofHours(4), DEFAULT.readingEvery());
        if (section.good("sample_every_s", "reading_every_s") && readingEvery.compareTo(sampleEvery) < 0) {
            section.problem(
                    "reading_every_s",
                    shown(readingEvery) + " is less than sample_every_s, " + shown(sampleEvery)
                            + ": full readings come between short looks, not more often");
        }
        return new BurnInPlan(
                Duration.ofMillis(Math.round(hours * SECONDS_PER_HOUR * 1000)),
                section.number("load_pct", 10, 100, 100 * DEFAULT.loadRatio()) / 100,
                section.integer("cold_starts", 0, 24, DEFAULT.coldStarts()),
                section.duration("off_s", Duration.ofSeconds(1), Duration.ofHours(2), DEFAULT.coldOff()),
                sampleEvery,
                readingEvery,
                section.duration("hot_after_s", Duration.ZERO, Duration.ofHours(8), DEFAULT.hotAfter()),
                section.duration("cool_s", Duration.ZERO, Duration.ofHours(8), DEFAULT.cool()),
                section.number("drift_max_pct", 0.001, 50, 100 * DEFAULT.driftMaxRatio()) / 100,
                section.number("ripple_growth_max_ratio", 1.01, 100, DEFAULT.rippleGrowthMaxRatio()),
                section.optionalNumber("heat_sink_max_C", 30, 200),
                section.number("warn_ratio", 0.1, 1, DEFAULT.warnRatio()));
    }

    private static String shown(Duration duration) {
        return RailReader.shown(duration.toMillis() / 1e3);
    }
}

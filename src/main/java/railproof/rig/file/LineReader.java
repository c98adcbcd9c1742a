package railproof.rig.file;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import railproof.base.Unit;
import railproof.instrument.LoadDialect;
import railproof.toml.Labels;
import railproof.toml.TomlSection;

/** Reads the {@code [line]} table. */
final class LineReader {
    private static final Duration LONGEST_SETTLE = Duration.ofMinutes(2);

    private enum Kind {
        PROGRAMMABLE,
        OPERATOR,
        FIXED
    }

    /** Reads a key that names a channel of a unit. */
    @FunctionalInterface
    interface ChannelKey {
        Optional<ChannelConfig> read(TomlSection section, String key, Unit unit);
    }

    private final LinkReader links;
    private final Map<String, LoadDialect> dialects;
    private final ChannelKey channels;

    LineReader(LinkReader links, Map<String, LoadDialect> dialects, ChannelKey channels) {
        this.links = links;
        this.dialects = dialects;
        this.channels = channels;
    }

    LineConfig line(TomlSection section) {
        Kind kind = section.choice("kind", Labels.of(Kind.values()));
        Optional<ChannelConfig> channel = channels.read(section, "channel", Unit.VOLT);
        double minV = section.number("min_V", 0, 500);
        double maxV = section.number("max_V", 1, 500);
        if (section.good("min_V", "max_V") && minV > maxV) {
            section.problem("min_V", minV + " is above max_V, " + maxV);
        }
        Duration settle = section.duration("settle_ms", Duration.ZERO, LONGEST_SETTLE, Duration.ofMillis(500));
        if (!section.good("kind")) {
            section.mayHave("dialect", "min_frequency_Hz", "max_frequency_Hz", "frequency_Hz", "band_pct");
            if (section.has("link")) {
                links.claim(section, "the line source");
            }
            return new LineConfig(new LineConfig.Fixed(), channel, minV, maxV, 50, 50, settle);
        }
        double lowHz;
        double highHz;
        if (kind == Kind.PROGRAMMABLE) {
            lowHz = section.number("min_frequency_Hz", 45, 66);
            highHz = section.number("max_frequency_Hz", 45, 66);
            if (section.good("min_frequency_Hz", "max_frequency_Hz") && lowHz > highHz) {
                section.problem("min_frequency_Hz", lowHz + " is above max_frequency_Hz, " + highHz);
            }
        } else {
            lowHz = section.number("frequency_Hz", 45, 66);
            highHz = lowHz;
        }
        return new LineConfig(feed(kind, section), channel, minV, maxV, lowHz, highHz, settle);
    }

    private LineConfig.Feed feed(Kind kind, TomlSection section) {
        return switch (kind) {
            case PROGRAMMABLE -> {
                Optional<LoadDialect> dialect = section.reference("dialect", "dialect", dialects);
                if (dialect.isEmpty()) {
                    section.missingReference("dialect", "dialect");
                }
                yield new LineConfig.Programmable(
                        links.claim(section, "the line source"),
                        dialect.orElse(LoadDialect.standard()).scpi());
            }
            case OPERATOR -> {
                if (!section.has("channel")) {
                    section.missingReference("channel", "channel");
                }
                yield new LineConfig.Operator(section.number("band_pct", 0.05, 10, 1) / 100);
            }
            case FIXED -> new LineConfig.Fixed();
        };
    }
}

package railproof.rig.file;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import railproof.base.Unit;
import railproof.toml.TomlSection;

/** Reads {@code [ranges.NAME]} and {@code [channels.NAME]} tables. */
final class ChannelReader {
    private static final int MAX_RANGES = 32;

    /** Stands for a range that could not be read, until the reading ends with the problem. */
    static final InputRange UNREAD = new InputRange("?", Unit.VOLT, 1, 0, 0, 0, 0, 0, 0);

    private final Map<String, InputRange> ranges = new LinkedHashMap<>();
    private final Map<String, ChannelConfig> channels = new LinkedHashMap<>();
    private final Map<String, TomlSection> sections;

    ChannelReader(TomlSection root) {
        root.namedTables("ranges", true, MAX_RANGES).forEach((name, section) -> ranges.put(name, range(name, section)));
        sections = root.namedTables("channels", true, BoardConfig.MAX_BITS);
        Map<Integer, String> taken = new HashMap<>();
        sections.forEach((name, section) -> {
            int input = section.integer("input", 0, BoardConfig.MAX_BITS - 1);
            String other = section.good("input") ? taken.putIfAbsent(input, name) : null;
            if (other != null) {
                section.problem("input", input + " is the input of channel \"" + other + "\" already");
            }
            channels.put(name, new ChannelConfig(name, input, range(section)));
        });
    }

    Map<String, ChannelConfig> channels() {
        return channels;
    }

    private InputRange range(TomlSection channel) {
        Optional<InputRange> range = channel.reference("range", "range", ranges);
        if (range.isEmpty()) {
            channel.missingReference("range", "range");
        }
        return range.orElse(UNREAD);
    }

    private static InputRange range(String name, TomlSection section) {
        boolean celsius = section.has("full_scale_C");
        if (celsius == section.has("full_scale_V")) {
            section.problem("needs either full_scale_V, for voltages, or full_scale_C, for temperatures");
            section.mayHave("gain_u_pct", "nonlinearity_u_pct", "drift_u_pct_per_year", "zero_C");
            section.mayHave("offset_u_V", "noise_rms_V", "offset_u_C", "noise_rms_C");
            return UNREAD;
        }
        double gainU = section.number("gain_u_pct", 0, 10) / 100;
        double nonLinearityU = section.number("nonlinearity_u_pct", 0, 10, 0) / 100;
        double driftU = section.number("drift_u_pct_per_year", 0, 10, 0) / 100;
        if (celsius) {
            double zeroC = section.number("zero_C", -273, 1000, 0);
            double fullScaleC = section.number("full_scale_C", 1, 2000);
            if (section.good("zero_C", "full_scale_C") && fullScaleC <= zeroC) {
                section.problem("full_scale_C", fullScaleC + " is not above zero_C, " + zeroC);
            }
            double offsetUC = section.number("offset_u_C", 0, 50);
            double noiseC = section.number("noise_rms_C", 0, 50);
            return new InputRange(
                    name, Unit.CELSIUS, fullScaleC, zeroC, gainU, offsetUC, noiseC, nonLinearityU, driftU);
        }
        double fullScaleV = section.number("full_scale_V", 0.01, 5000);
        double offsetUV = section.number("offset_u_V", 0, 100);
        double noiseV = section.number("noise_rms_V", 0, 100);
        return new InputRange(name, Unit.VOLT, fullScaleV, 0, gainU, offsetUV, noiseV, nonLinearityU, driftU);
    }
}

package railproof.profile;

import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import railproof.profile.PartList.Toleranced;
import railproof.toml.Labels;
import railproof.toml.TomlSection;

/** Reads the tables that help a diagnosis: {@code [rails.parts]} and {@code [diagnosis]}. */
final class PartListReader {
    private static final Map<String, RectifierKind> RECTIFIERS = Labels.of(RectifierKind.values());
    private static final Map<String, Boolean> PASS_STAGES = Map.of("darlington", true, "single", false);
    private static final double SMALLEST_PCT = 0.01;
    private static final double LARGEST_PCT = 500;

    private PartListReader() {}

    static PartList read(TomlSection section, LimitShape shape) {
        RectifierKind rectifier = section.choice("rectifier", RECTIFIERS);
        boolean driver = section.choice("pass_stage", PASS_STAGES, true);
        Map<PartValue, Toleranced> values = new EnumMap<>(PartValue.class);
        for (PartValue value : PartValue.values()) {
            if ((value.ofFoldback() && shape != LimitShape.FOLDBACK)
                    || (value == PartValue.DRIVER_GAIN && !driver)
                    || (value.mayBeLeftOut() && !section.has(value.key()))) {
                continue;
            }
            if (value == PartValue.DRIVER_GAIN && !section.has(value.key())) {
                section.problem(
                        value.key(),
                        String.format(
                                Locale.ROOT,
                                "is missing; it must be a number from %.0f to %.0f, or pass_stage must be \"single\"",
                                value.low(),
                                value.high()));
                continue;
            }
            double nominal = section.number(value.key(), value.low(), value.high());
            double tolerancePct =
                    section.number(value.toleranceKey(), SMALLEST_PCT, LARGEST_PCT, value.usualTolerancePct());
            values.put(value, new Toleranced(nominal * value.unitDimensionless(), tolerancePct / 100));
        }
        return new PartList(rectifier, values);
    }

    /** How often each part is the cause, in the profile's opinion; parts it does not name keep their usual weight. */
    static Map<UnitPart, Double> weights(Optional<TomlSection> diagnosis) {
        Map<UnitPart, Double> weights = new EnumMap<>(UnitPart.class);
        diagnosis.flatMap(table -> table.table("weights", false)).ifPresent(table -> {
            for (UnitPart part : UnitPart.values()) {
                table.optionalNumber(part.label(), 0, 1000).ifPresent(weight -> weights.put(part, weight));
            }
        });
        return weights;
    }
}

package railproof.profile;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** The parts of a supply that can be suspected. Their labels stand in profiles and on the command line. */
public enum UnitPart {
    LINE(SupplyStage.INPUT, "line supply", 1),
    TRANSFORMER(SupplyStage.INPUT, "transformer", 0.5),
    SECONDARY_JOINT(SupplyStage.INPUT, "winding or joint in the secondary lead", 1),
    RECTIFIER_DIODE(SupplyStage.RECTIFIER, "rectifier diode", 1.5),
    RESERVOIR_CAPACITOR(SupplyStage.RESERVOIR, "reservoir capacitor", 4),
    PASS_TRANSISTOR(SupplyStage.PASS, "pass transistor", 3),
    DRIVER(SupplyStage.PASS, "driver transistor", 1.5),
    BASE_FEED(SupplyStage.PASS, "base feed resistor", 1),
    REFERENCE_DIODE(SupplyStage.REFERENCE, "reference diode", 1.5),
    ERROR_TRANSISTOR(SupplyStage.ERROR, "error transistor", 1),
    DIVIDER_UPPER(SupplyStage.ERROR, "upper divider resistor", 1),
    DIVIDER_LOWER(SupplyStage.ERROR, "lower divider resistor", 1),
    SENSE_RESISTOR(SupplyStage.LIMITER, "current-sense resistor", 1),
    LIMIT_TRANSISTOR(SupplyStage.LIMITER, "limit transistor", 1),
    OUTPUT_CAPACITOR(SupplyStage.OUTPUT, "output capacitor", 2),
    COMPENSATION(SupplyStage.OUTPUT, "loop compensation", 0.5);

    private final SupplyStage stage;
    private final String words;
    private final double usualWeightRatio;

    UnitPart(SupplyStage stage, String words, double usualWeightRatio) {
        this.stage = stage;
        this.words = words;
        this.usualWeightRatio = usualWeightRatio;
    }

    /** Where in the supply it sits. */
    public SupplyStage stage() {
        return stage;
    }

    /** As people say it. */
    public String words() {
        return words;
    }

    /**
     * How often it is the cause, against a part of weight 1, where a profile says nothing: electrolytics wear out, power
     * semiconductors die, the rest seldom does (common practice, no source).
     */
    public double usualWeightRatio() {
        return usualWeightRatio;
    }

    /** As written in files: {@code reservoir-capacitor}. */
    public String label() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The part of that label. */
    public static Optional<UnitPart> ofLabel(String label) {
        return Arrays.stream(values())
                .filter(part -> part.label().equals(label))
                .findFirst();
    }
}

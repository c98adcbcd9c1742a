package railproof.diagnosis;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Unit;

/** What can be read at a node. */
public enum Sight {
    OUTPUT(ProbeNode.OUTPUT, "output", Unit.VOLT, Scale.LEVEL, 0.003),
    OUTPUT_RIPPLE(ProbeNode.OUTPUT, "output ripple p-p", Unit.VOLT, Scale.OUTPUT_RIPPLE, 0.12),
    OUTPUT_LINE(ProbeNode.OUTPUT, "output ripple at the line frequency", Unit.VOLT, Scale.OUTPUT_RIPPLE, 0.3),
    OUTPUT_REST(ProbeNode.OUTPUT, "output noise beside the line", Unit.VOLT, Scale.OUTPUT_RIPPLE, 0.3),
    OUTPUT_FAST(ProbeNode.OUTPUT, "output noise above 20 times the line", Unit.VOLT, Scale.OUTPUT_RIPPLE, 0.3),
    OUTPUT_DIP(ProbeNode.OUTPUT, "fall of the output between looks", Unit.VOLT, Scale.OUTPUT_RIPPLE, 0.3),
    LIMIT(ProbeNode.LOAD_TESTS, "current at which the limit sets in", Unit.AMPERE, Scale.CURRENT, 0.04),
    SHORT(ProbeNode.LOAD_TESTS, "current into a short", Unit.AMPERE, Scale.CURRENT, 0.08),
    UNDERSHOOT(ProbeNode.LOAD_TESTS, "dip after a load step", Unit.VOLT, Scale.OUTPUT_RIPPLE, 0.3),
    LINE(ProbeNode.LINE, "line over its nominal value", Unit.RATIO, Scale.RATIO, 0.01),
    RAW(ProbeNode.RAW, "raw voltage", Unit.VOLT, Scale.LEVEL, 0.006),
    RAW_RIPPLE(ProbeNode.RAW, "raw ripple p-p", Unit.VOLT, Scale.RAW_RIPPLE, 0.06),
    RAW_LINE(ProbeNode.RAW, "raw ripple at the line frequency", Unit.VOLT, Scale.RAW_RIPPLE, 0.1),
    RAW_FALL(ProbeNode.RAW, "discharge of the reservoir per second", Unit.VOLT, Scale.SLOPE, 0.05),
    BASE(ProbeNode.BASE, "base above the output", Unit.VOLT, Scale.OFFSET, 0.05),
    REFERENCE(ProbeNode.REFERENCE, "reference", Unit.VOLT, Scale.LEVEL, 0.004),
    SENSE_TAP(ProbeNode.SENSE_TAP, "sense tap", Unit.VOLT, Scale.LEVEL, 0.004),
    /** In air of 25 °C, give or take 4 K. */
    HEAT_SINK(ProbeNode.HEAT_SINK, "heat sink", Unit.CELSIUS, Scale.OFFSET, 4);

    /** In what space a reading is compared. */
    enum Scale {
        /** Over the nominal output. */
        LEVEL,
        /** Volts or degrees, as they are. */
        OFFSET,
        /** As it is. */
        RATIO,
        /** Logarithm, with a floor at what no bench sees on an output. */
        OUTPUT_RIPPLE,
        /** Logarithm, with a floor at what does not matter on a reservoir. */
        RAW_RIPPLE,
        /** Logarithm of volts per second, with a floor. */
        SLOPE,
        /** Logarithm of the current over the rated one, with a floor. */
        CURRENT
    }

    private final ProbeNode node;
    private final String words;
    private final Unit unit;
    private final Scale scale;
    private final double modelU;

    Sight(ProbeNode node, String words, Unit unit, Scale scale, double modelU) {
        this.node = node;
        this.words = words;
        this.unit = unit;
        this.scale = scale;
        this.modelU = modelU;
    }

    /** Where it is read. */
    public ProbeNode node() {
        return node;
    }

    /** As people say it. */
    public String words() {
        return words;
    }

    /** Its unit. */
    public Unit unit() {
        return unit;
    }

    /** As written in files: {@code raw-ripple}. */
    public String label() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The sight of that label. */
    public static Optional<Sight> ofLabel(String label) {
        return Arrays.stream(values()).filter(s -> s.label().equals(label)).findFirst();
    }

    Scale scale() {
        return scale;
    }

    /** Standard uncertainty of what the model says, in the space of comparison: generic devices stand for the real. */
    double modelU() {
        return modelU;
    }
}

package railproof.diagnosis;

import java.util.Locale;
import railproof.profile.LimitShape;
import railproof.profile.PartList;
import railproof.profile.UnitPart;

/**
 * What can be wrong with a part. Each fault has a range of severities; its mild end lies where a unit stops being sound by
 * the usual criteria (an electrolytic is worn out from −30 % of capacitance or three times its series resistance on).
 * Resistances in the power path are scaled by the rail's rated load resistance. The ranges are common practice, no
 * source.
 */
public enum PartFault {
    LINE_LOW(UnitPart.LINE, "low", 1),
    TAP_WRONG(UnitPart.TRANSFORMER, "strapped for another line, or turns shorted", 1),
    JOINT_RESISTIVE(UnitPart.SECONDARY_JOINT, "high resistance", 1),
    JOINT_CRACKED(UnitPart.SECONDARY_JOINT, "opens when warm", 0.5),
    DIODE_OPEN(UnitPart.RECTIFIER_DIODE, "open", 1),
    RESERVOIR_LOW(UnitPart.RESERVOIR_CAPACITOR, "lost capacitance", 1),
    RESERVOIR_ESR(UnitPart.RESERVOIR_CAPACITOR, "high series resistance, or a bad joint there", 1),
    RESERVOIR_LEAKY(UnitPart.RESERVOIR_CAPACITOR, "leaky", 0.5),
    PASS_SHORT(UnitPart.PASS_TRANSISTOR, "shorted, collector to emitter", 1),
    PASS_OPEN(UnitPart.PASS_TRANSISTOR, "open", 1),
    PASS_INTERMITTENT(UnitPart.PASS_TRANSISTOR, "opens now and then", 0.5),
    DRIVER_OPEN(UnitPart.DRIVER, "open", 1),
    DRIVER_WEAK(UnitPart.DRIVER, "lost gain", 1),
    FEED_HIGH(UnitPart.BASE_FEED, "risen", 1),
    REFERENCE_SHORT(UnitPart.REFERENCE_DIODE, "shorted", 1),
    REFERENCE_OPEN(UnitPart.REFERENCE_DIODE, "open", 1),
    REFERENCE_NOISY(UnitPart.REFERENCE_DIODE, "noisy", 0.5),
    REFERENCE_DRIFTING(UnitPart.REFERENCE_DIODE, "drifts as it warms up", 0.5),
    ERROR_OPEN(UnitPart.ERROR_TRANSISTOR, "open", 1),
    ERROR_SHORT(UnitPart.ERROR_TRANSISTOR, "shorted, collector to emitter", 1),
    UPPER_OPEN(UnitPart.DIVIDER_UPPER, "open", 1),
    UPPER_HIGH(UnitPart.DIVIDER_UPPER, "risen", 1),
    LOWER_OPEN(UnitPart.DIVIDER_LOWER, "open", 1),
    SENSE_HIGH(UnitPart.SENSE_RESISTOR, "risen", 1),
    LIMIT_SHORT(UnitPart.LIMIT_TRANSISTOR, "shorted, collector to emitter", 1),
    LIMIT_OPEN(UnitPart.LIMIT_TRANSISTOR, "open: no current limit", 1),
    OUTPUT_WORN(UnitPart.OUTPUT_CAPACITOR, "worn out", 1),
    LOOP_OSCILLATES(UnitPart.COMPENSATION, "lost: the loop oscillates", 1);

    private static final double OPEN_OHM = 1e9;

    private final UnitPart part;
    private final String how;
    private final double shareRatio;

    PartFault(UnitPart part, String how, double shareRatio) {
        this.part = part;
        this.how = how;
        this.shareRatio = shareRatio;
    }

    /** The part it sits on. */
    public UnitPart part() {
        return part;
    }

    /** What is wrong with the part, in words. */
    public String how() {
        return how;
    }

    /** As written in files: {@code reservoir-esr}. */
    public String label() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** How often among the faults of its part, against a fault of 1. */
    double shareRatio() {
        return shareRatio;
    }

    /** Whether all its severities look the same to the model. */
    boolean oneSeverity() {
        return switch (this) {
            case JOINT_CRACKED,
                    PASS_OPEN,
                    PASS_INTERMITTENT,
                    DRIVER_OPEN,
                    REFERENCE_OPEN,
                    ERROR_OPEN,
                    UPPER_OPEN,
                    LOWER_OPEN,
                    LIMIT_OPEN -> true;
            default -> false;
        };
    }

    /** Whether a supply of that build has the part. */
    boolean possible(PartList parts, LimitShape limit) {
        return switch (part) {
            case DRIVER -> parts.hasDriver();
            case LIMIT_TRANSISTOR -> limit != LimitShape.NONE;
            default -> true;
        };
    }

    /**
     * Puts the fault into a circuit.
     *
     * @param severityRatio 0, mildest, to 1, worst
     */
    void place(Circuit circuit, double severityRatio) {
        double scaleOhm = circuit.ratedOhm();
        switch (this) {
            case LINE_LOW -> circuit.inletRatio = from(0.90, 0.70, severityRatio);
            case TAP_WRONG ->
                circuit.peakV *= severityRatio < 0.4
                        ? from(0.72, 0.9, severityRatio / 0.4)
                        : from(1.10, 1.30, (severityRatio - 0.4) / 0.6);
            case JOINT_RESISTIVE -> circuit.windingOhm += scaleOhm * swept(0.07, 0.4, severityRatio);
            case JOINT_CRACKED -> circuit.hotWindingOhm = 1e5 * scaleOhm;
            case DIODE_OPEN -> circuit.badDiodeOhm = swept(3 * scaleOhm, OPEN_OHM, Math.sqrt(severityRatio));
            case RESERVOIR_LOW -> circuit.reservoirF *= from(0.65, 0.04, severityRatio);
            case RESERVOIR_ESR -> circuit.reservoirEsrOhm += scaleOhm * swept(0.03, 0.4, severityRatio);
            case RESERVOIR_LEAKY -> circuit.leakA = circuit.ratedA * from(0.08, 0.5, severityRatio);
            default -> placeOnRegulator(circuit, severityRatio);
        }
    }

    private void placeOnRegulator(Circuit circuit, double severityRatio) {
        switch (this) {
            case PASS_SHORT -> circuit.passShortOhm = circuit.ratedOhm() * swept(0.5, 0.002, severityRatio);
            case PASS_OPEN -> circuit.passOpen = true;
            case PASS_INTERMITTENT -> circuit.outageRatio = 1;
            case DRIVER_OPEN -> circuit.driverOpen = true;
            case DRIVER_WEAK -> circuit.driverGainRatio *= swept(0.25, 0.02, severityRatio);
            case FEED_HIGH -> circuit.feedOhm *= swept(2.5, 20, severityRatio);
            case REFERENCE_SHORT -> circuit.referenceShortOhm = swept(200, 0.5, severityRatio);
            case REFERENCE_OPEN -> circuit.referenceOpen = true;
            case REFERENCE_NOISY -> circuit.referenceNoiseRatio = swept(0.0015, 0.012, severityRatio);
            case REFERENCE_DRIFTING -> circuit.hotReferenceRatio = from(0.992, 0.955, severityRatio);
            case ERROR_OPEN -> circuit.errorOpen = true;
            case ERROR_SHORT -> circuit.errorShortOhm = swept(300, 0.5, severityRatio);
            case UPPER_OPEN -> circuit.upperOhm = OPEN_OHM;
            case UPPER_HIGH -> circuit.upperOhm *= from(1.06, 1.25, severityRatio);
            case LOWER_OPEN -> circuit.lowerOhm = OPEN_OHM;
            case SENSE_HIGH -> circuit.senseOhm *= from(1.35, 3, severityRatio);
            case LIMIT_SHORT -> circuit.limitShortOhm = swept(300, 0.5, severityRatio);
            case LIMIT_OPEN -> circuit.limitOpen = true;
            case OUTPUT_WORN -> {
                circuit.outputF *= from(0.5, 0.05, severityRatio);
                circuit.outputEsrOhm *= swept(8, 120, severityRatio);
            }
            case LOOP_OSCILLATES -> circuit.oscillationRatio = swept(0.0015, 0.03, severityRatio);
            default -> throw new IllegalStateException("no place for " + label());
        }
    }

    private static double from(double mild, double bad, double severityRatio) {
        return mild + (bad - mild) * severityRatio;
    }

    /** The same over decades. */
    private static double swept(double mild, double bad, double severityRatio) {
        return mild * Math.pow(bad / mild, severityRatio);
    }
}

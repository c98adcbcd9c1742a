package railproof.diagnosis;

import java.util.Map;
import java.util.function.Supplier;
import railproof.profile.PartList;
import railproof.profile.PartList.Toleranced;
import railproof.profile.PartValue;
import railproof.profile.RectifierKind;

/** The values of one unit's parts, sound when made; a fault changes some of them. Confined to one thread. */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
final class Circuit {
    static final int DRAWS = PartValue.values().length + Spread.values().length;
    static final double THERMAL_V = 0.02585;

    private static final double NEVER_OHM = 1e12;
    /** Base-emitter voltage at the current a transistor is made for: silicon, 25 °C, 0.65 to 0.75 V. */
    private static final double VBE_V = 0.70;

    private static final double SIGNAL_VBE_V = 0.67;
    /** Current of the signal transistors where they have that, as a share of the feed current's order. */
    private static final double SIGNAL_A = 3e-3;

    private static final double DIODE_DROP_V = 0.82;

    // what is fixed by the rail
    final double ratedA;
    final double nominalV;
    final boolean bridge;
    final boolean foldsBack;
    final boolean halfWave;
    final boolean hasDriver;

    // input
    double inletRatio = 1;
    double peakV;
    double mismatchRatio;
    double windingOhm;
    double hotWindingOhm;
    double diodeSaturationA;
    double badDiodeOhm;
    // reservoir
    double reservoirF;
    double reservoirEsrOhm;
    double leakA;
    double reservoirBleedOhm = NEVER_OHM;
    // pass stage
    double feedOhm;
    double bleedOhm;
    double passGainRatio;
    double driverGainRatio;
    double passSaturationA;
    double driverSaturationA;
    double earlyV;
    double passShortOhm = NEVER_OHM;
    boolean passOpen;
    boolean driverOpen;
    double outageRatio;
    // reference and error stage
    double referenceV;
    double referenceSlopeOhm;
    double referenceFeedOhm;
    double referenceShortOhm = NEVER_OHM;
    boolean referenceOpen;
    double referenceNoiseRatio;
    double hotReferenceRatio = 1;
    double upperOhm;
    double lowerOhm;
    double errorGainRatio;
    double errorSaturationA;
    double errorShortOhm = NEVER_OHM;
    boolean errorOpen;
    // limiter
    double senseOhm;
    double limitSaturationA;
    double limitShortOhm = NEVER_OHM;
    double foldUpperOhm = 47;
    double foldLowerOhm = NEVER_OHM;
    boolean limitOpen;
    boolean noLimiter;
    // output
    double outputF;
    double outputEsrOhm;
    double heatSinkKPerW;
    double stepRatio;
    double noiseRatio;
    double oscillationRatio;

    /**
     * A sound unit.
     *
     * @param parts nominal values
     * @param typical whether the values are typical ones, of which only the nominal output is sure
     * @param draw for every part value, then every spread, where in its tolerance it lies, −1 to 1
     */
    Circuit(PartList parts, boolean typical, double nominalV, double ratedA, double[] draw) {
        this.nominalV = nominalV;
        this.ratedA = ratedA;
        bridge = parts.rectifier() == RectifierKind.BRIDGE;
        halfWave = parts.rectifier() == RectifierKind.HALF_WAVE;
        foldsBack = parts.foldsBack();
        hasDriver = parts.hasDriver();
        Drawn drawn = new Drawn(parts.values(), draw);
        peakV = Math.sqrt(2) * drawn.of(PartValue.SECONDARY);
        windingOhm = drawn.of(PartValue.WINDING);
        mismatchRatio = parts.rectifier() == RectifierKind.CENTRE_TAP
                ? Math.max(0, Spread.MISMATCH.halfWidth() + drawn.of(Spread.MISMATCH))
                : 0;
        double dropV = DIODE_DROP_V + drawn.of(Spread.DIODE_DROP);
        diodeSaturationA = 3 * ratedA * Math.exp(-dropV / Rectifier.SLOPE_V);
        reservoirF = drawn.of(PartValue.RESERVOIR);
        reservoirEsrOhm = drawn.of(PartValue.RESERVOIR_ESR);
        if (parts.values().containsKey(PartValue.RESERVOIR_BLEED)) {
            reservoirBleedOhm = drawn.of(PartValue.RESERVOIR_BLEED);
        }
        feedOhm = drawn.of(PartValue.BASE_FEED);
        bleedOhm = drawn.of(PartValue.BASE_BLEED);
        passGainRatio = drawn.of(PartValue.PASS_GAIN);
        driverGainRatio = drawn.of(PartValue.DRIVER_GAIN);
        earlyV = 110 * Math.exp(drawn.of(Spread.EARLY));
        passSaturationA = saturationA(ratedA, VBE_V + drawn.of(Spread.PASS_VBE));
        double driverA = ratedA / parts.nominal(PartValue.PASS_GAIN);
        driverSaturationA = saturationA(driverA, VBE_V + drawn.of(Spread.DRIVER_VBE));
        referenceV = drawn.of(PartValue.REFERENCE);
        referenceSlopeOhm = drawn.of(PartValue.REFERENCE_SLOPE);
        referenceFeedOhm = drawn.of(PartValue.REFERENCE_FEED);
        upperOhm = drawn.of(PartValue.DIVIDER_UPPER);
        lowerOhm = drawn.of(PartValue.DIVIDER_LOWER);
        errorGainRatio = drawn.of(PartValue.ERROR_GAIN);
        errorSaturationA = saturationA(SIGNAL_A, SIGNAL_VBE_V + drawn.of(Spread.ERROR_VBE));
        if (typical) {
            // whatever the reference, the divider was chosen for the nominal output
            double overDimensionless = Math.max(0.05, nominalV / (referenceV + SIGNAL_VBE_V) - 1);
            upperOhm = lowerOhm * overDimensionless * upperOhm / parts.nominal(PartValue.DIVIDER_UPPER);
        }
        senseOhm = drawn.of(PartValue.SENSE);
        limitSaturationA = saturationA(SIGNAL_A, SIGNAL_VBE_V + drawn.of(Spread.LIMIT_VBE));
        if (foldsBack) {
            foldUpperOhm = drawn.of(PartValue.FOLDBACK_UPPER);
            foldLowerOhm = drawn.of(PartValue.FOLDBACK_LOWER);
        }
        outputF = drawn.of(PartValue.OUTPUT_CAPACITOR);
        outputEsrOhm = drawn.of(PartValue.OUTPUT_ESR);
        heatSinkKPerW = drawn.of(PartValue.HEAT_SINK, () -> usualSink(parts, nominalV, ratedA));
        stepRatio = Math.exp(drawn.of(Spread.STEP));
        noiseRatio = Math.exp(drawn.of(Spread.NOISE));
    }

    /** The load resistance that draws the rated current at nominal output, Ω: the scale of everything in series. */
    double ratedOhm() {
        return nominalV / ratedA;
    }

    /** A sink on which full load makes 35 K (common practice, no source). */
    private static Toleranced usualSink(PartList parts, double nominalV, double ratedA) {
        double acrossV = Math.sqrt(2) * parts.nominal(PartValue.SECONDARY) - 2 - nominalV;
        return new Toleranced(35 / (Math.max(1, acrossV) * ratedA), 0.8);
    }

    private static double saturationA(double atA, double vbeV) {
        return atA * Math.exp(-vbeV / THERMAL_V);
    }

    @SuppressWarnings("ArrayRecordComponent") // a bundle that nobody compares
    private record Drawn(Map<PartValue, Toleranced> values, double[] draw) {
        double of(PartValue value) {
            return values.containsKey(value) ? of(value, () -> new Toleranced(1, 1)) : 1;
        }

        double of(PartValue value, Supplier<Toleranced> otherwise) {
            Toleranced known = values.get(value);
            Toleranced part = known != null ? known : otherwise.get();
            // in ratio, so that a tolerance of 60 % is 1.6 times one way and divided by 1.6 the other
            return part.nominalDimensionless() * Math.exp(Math.log1p(part.toleranceRatio()) * draw[value.ordinal()]);
        }

        double of(Spread spread) {
            return spread.halfWidth() * draw[PartValue.values().length + spread.ordinal()];
        }
    }
}

package railproof.diagnosis;

import java.util.EnumMap;
import java.util.Map;
import railproof.profile.LimitShape;
import railproof.profile.PartList;
import railproof.profile.PartList.Toleranced;
import railproof.profile.PartValue;
import railproof.profile.Rail;
import railproof.profile.RectifierKind;

/**
 * Part values as a designer would have chosen them, for a profile that states none, with tolerances that say how little
 * is known. Rules: headroom and drops of a Darlington pass stage (V<sub>B</sub> = V<sub>out</sub> + I R<sub>sc</sub> + 2
 * V<sub>BE</sub>), reservoir from I = C f p V<sub>pp</sub> with the ripple a tenth of the raw voltage, limit from 0.65 V
 * over the sense resistor at 1.25 times the rating: textbook rules of series regulators. Reference at half the output
 * (a third to all of it), gains and feeds from the currents they must carry: common practice, no source.
 */
final class TypicalParts {
    private static final double HZ = 55;

    private TypicalParts() {}

    static PartList of(Rail rail) {
        double outV = Math.abs(rail.nominalV());
        double ratedA = rail.ratedCurrentA();
        double ratedOhm = outV / ratedA;
        double rawV = 1.35 * outV + 4;
        double referenceV = Math.max(1.2, 0.5 * outV);
        double passGain = ratedA > 0.1 ? 50 : 70;
        double driverGain = 100;
        Map<PartValue, Toleranced> values = new EnumMap<>(PartValue.class);
        put(values, PartValue.SECONDARY, (1.1 * rawV + 1.6) / Math.sqrt(2), 0.15);
        put(values, PartValue.WINDING, 0.05 * ratedOhm, 0.8);
        put(values, PartValue.RESERVOIR, ratedA / (2 * HZ * 0.1 * rawV), 0.8);
        put(values, PartValue.RESERVOIR_ESR, 0.005 * ratedOhm, 1.2);
        put(values, PartValue.BASE_FEED, (0.2 * outV + 2) / (2.5 * ratedA / (passGain * driverGain)), 0.6);
        put(values, PartValue.BASE_BLEED, 0.7 / (0.3 * ratedA / passGain), 1);
        put(values, PartValue.PASS_GAIN, passGain, 0.8);
        put(values, PartValue.DRIVER_GAIN, driverGain, 0.8);
        put(values, PartValue.REFERENCE, referenceV, 0.8);
        put(values, PartValue.REFERENCE_SLOPE, 0.01 * referenceV / 5e-3, 2);
        put(values, PartValue.REFERENCE_FEED, (outV - referenceV) / 5e-3, 1);
        double tapV = referenceV + 0.65;
        put(values, PartValue.DIVIDER_UPPER, Math.max(0.02 * outV, outV - tapV) / 2e-3, 0.04);
        put(values, PartValue.DIVIDER_LOWER, Math.min(tapV, 0.98 * outV) / 2e-3, 0.04);
        put(values, PartValue.ERROR_GAIN, 200, 0.8);
        put(values, PartValue.OUTPUT_CAPACITOR, 1e-4 * Math.max(1, ratedA), 1);
        put(values, PartValue.OUTPUT_ESR, 0.015 * ratedOhm, 1);
        limiter(values, rail, ratedA);
        return new PartList(RectifierKind.BRIDGE, values);
    }

    private static void limiter(Map<PartValue, Toleranced> values, Rail rail, double ratedA) {
        if (rail.limitShape() != LimitShape.FOLDBACK) {
            put(values, PartValue.SENSE, 0.65 / (1.25 * ratedA), 0.12);
            return;
        }
        // knee over short of 2.5: I = (Vs + Vo (1 − k)) / (k Rsc) at both ends gives k and Rsc
        double outV = Math.abs(rail.nominalV());
        double shorted = 0.5 * ratedA;
        double share = 1 / (1 + 0.65 * 1.5 / outV);
        put(values, PartValue.SENSE, 0.65 / (share * shorted), 0.15);
        put(values, PartValue.FOLDBACK_LOWER, 500, 0.02);
        put(values, PartValue.FOLDBACK_UPPER, 500 * (1 - share) / share, 0.05);
    }

    private static void put(Map<PartValue, Toleranced> values, PartValue value, double nominal, double toleranceRatio) {
        values.put(value, new Toleranced(nominal, toleranceRatio));
    }
}

package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import railproof.base.Measured;

/**
 * One reading and what it says of one suspect.
 *
 * @param feature what was read
 * @param value the reading
 * @param speaksFor whether it is unlike a sound unit and like this fault; if not, it is unlike this fault
 * @param sound where nine of ten sound units lie, in the reading's unit
 * @param fault where nine of ten units with this fault lie
 * @param weightDimensionless how loud it is: standard deviations
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
public record Evidence(
        Feature feature, Measured value, boolean speaksFor, RangeOf sound, RangeOf fault, double weightDimensionless) {
    private static final double UNLIKE_SIGMAS = 2.5;
    private static final double LIKE_SIGMAS = 2;
    private static final int MOST_EACH_WAY = 4;

    /**
     * Where nine of ten units lie.
     *
     * @param lowDimensionless in the reading's unit
     * @param highDimensionless likewise
     */
    public record RangeOf(double lowDimensionless, double highDimensionless) {}

    /** The loudest readings for and against a fault. */
    static List<Evidence> of(Posterior posterior, PartFault fault, Readings readings) {
        Dictionary dictionary = posterior.dictionary();
        SeverityBand likely = mostProbable(posterior, fault.ordinal());
        SeverityBand sound = mostProbable(posterior, Dictionary.SOUND);
        List<Evidence> all = new ArrayList<>();
        for (Map.Entry<Feature, Measured> each : readings.values().entrySet()) {
            Feature feature = each.getKey();
            double fromSound = sigmas(dictionary, sound, feature, each.getValue());
            double fromFault = sigmas(dictionary, likely, feature, each.getValue());
            boolean speaksFor = fromSound > UNLIKE_SIGMAS && fromFault < LIKE_SIGMAS;
            if (speaksFor || fromFault > UNLIKE_SIGMAS) {
                all.add(new Evidence(
                        feature,
                        each.getValue(),
                        speaksFor,
                        range(dictionary, Dictionary.SOUND, feature),
                        range(dictionary, fault.ordinal(), feature),
                        speaksFor ? fromSound - fromFault : fromFault));
            }
        }
        all.sort(Comparator.comparingDouble(Evidence::weightDimensionless).reversed());
        List<Evidence> kept = new ArrayList<>();
        for (boolean way : new boolean[] {true, false}) {
            all.stream().filter(e -> e.speaksFor() == way).limit(MOST_EACH_WAY).forEach(kept::add);
        }
        return kept;
    }

    private static RangeOf range(Dictionary dictionary, int fault, Feature feature) {
        return new RangeOf(dictionary.lowest(fault, feature), dictionary.highest(fault, feature));
    }

    private static SeverityBand mostProbable(Posterior posterior, int fault) {
        double[] logs = posterior.bandLog();
        int best = -1;
        for (int b = 0; b < logs.length; b++) {
            if (posterior.dictionary().bands.get(b).fault == fault && (best < 0 || logs[b] > logs[best])) {
                best = b;
            }
        }
        if (best < 0) {
            throw new IllegalStateException("no band of fault " + fault + " in " + Arrays.toString(logs));
        }
        return posterior.dictionary().bands.get(best);
    }

    private static double sigmas(Dictionary dictionary, SeverityBand band, Feature feature, Measured value) {
        int place = feature.index();
        double u = dictionary.space.comparedU(feature, value.value(), value.standardU());
        double off = dictionary.space.compared(feature, value.value()) - band.mean[place];
        return Math.abs(off) / Math.sqrt(band.covariance[place][place] + u * u);
    }
}

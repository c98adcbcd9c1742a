package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import railproof.base.Measured;

/**
 * One reading and what it says of one suspect: by itself, or beside the others. A reading that is nothing unusual can still
 * be one that a sound unit with these other readings would not show.
 *
 * @param feature what was read
 * @param value the reading
 * @param speaksFor whether it is unlike a sound unit and like this fault; if not, it is unlike this fault
 * @param besideOthers whether it speaks only beside the others
 * @param sound where nine of ten sound units lie, of those with these other readings if it speaks beside them
 * @param fault the same of units with this fault
 * @param weightDimensionless how loud it is: standard deviations
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
public record Evidence(
        Feature feature,
        Measured value,
        boolean speaksFor,
        boolean besideOthers,
        RangeOf sound,
        RangeOf fault,
        double weightDimensionless) {
    private static final double UNLIKE_SIGMAS = 2.5;
    private static final double LIKE_SIGMAS = 2;
    private static final int MOST_EACH_WAY = 4;
    private static final int MOST_BESIDE_OTHERS = 3;
    /** Nine of ten lie within so many standard deviations. */
    private static final double NINE_IN_TEN = 1.645;

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
            // what is as far from a sound unit says nothing of this fault
            boolean speaksAgainst = fromFault > UNLIKE_SIGMAS && fromFault > fromSound + 1;
            if (speaksFor || speaksAgainst) {
                all.add(new Evidence(
                        feature,
                        each.getValue(),
                        speaksFor,
                        false,
                        range(dictionary, Dictionary.SOUND, feature),
                        range(dictionary, fault.ordinal(), feature),
                        speaksFor ? fromSound - fromFault : fromFault));
            }
        }
        all.addAll(besideOthers(dictionary.space, sound, likely, readings, all));
        all.sort(Comparator.comparingDouble(Evidence::weightDimensionless).reversed());
        List<Evidence> kept = new ArrayList<>();
        for (boolean way : new boolean[] {true, false}) {
            all.stream()
                    .filter(e -> e.speaksFor() == way && !e.besideOthers())
                    .limit(MOST_EACH_WAY)
                    .forEach(kept::add);
            all.stream()
                    .filter(e -> e.speaksFor() == way && e.besideOthers())
                    .limit(MOST_BESIDE_OTHERS)
                    .forEach(kept::add);
        }
        return kept;
    }

    /** Readings that speak beside the others only, those that speak by themselves left out. */
    private static List<Evidence> besideOthers(
            Space space, SeverityBand sound, SeverityBand likely, Readings readings, List<Evidence> alone) {
        Compared compared = Compared.of(space, readings);
        Compared.GivenOthers inSound = compared.givenOthers(sound);
        Compared.GivenOthers inFault = compared.givenOthers(likely);
        List<Feature> told = alone.stream().map(Evidence::feature).toList();
        List<Evidence> found = new ArrayList<>();
        for (int i = 0; i < compared.places().length; i++) {
            Feature feature = Feature.ALL.get(compared.places()[i]);
            double y = compared.y()[i];
            double fromSound = Math.abs(y - inSound.expected()[i]) / inSound.u()[i];
            double fromFault = Math.abs(y - inFault.expected()[i]) / inFault.u()[i];
            boolean speaksFor = fromSound > UNLIKE_SIGMAS && fromFault < LIKE_SIGMAS;
            boolean speaksAgainst = fromFault > UNLIKE_SIGMAS && fromSound < LIKE_SIGMAS;
            if (!told.contains(feature) && (speaksFor || speaksAgainst)) {
                found.add(new Evidence(
                        feature,
                        readings.of(feature.sight(), feature.at()).orElseThrow(),
                        speaksFor,
                        true,
                        range(space, feature, inSound.expected()[i], inSound.u()[i]),
                        range(space, feature, inFault.expected()[i], inFault.u()[i]),
                        Math.abs(fromSound - fromFault)));
            }
        }
        return found;
    }

    private static RangeOf range(Space space, Feature feature, double middle, double u) {
        return new RangeOf(
                space.natural(feature, middle - NINE_IN_TEN * u), space.natural(feature, middle + NINE_IN_TEN * u));
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

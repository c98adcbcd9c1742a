package railproof.diagnosis;

import java.util.EnumMap;
import java.util.Map;
import railproof.profile.UnitPart;

/**
 * What is believed before anything is read: how often a unit on the bench is sound after all, and how often each part is
 * the cause.
 *
 * <p>Thread: immutable; any.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
public final class Priors {
    /** Share of units that turn out to be sound, where nothing else is known (common practice, no source). */
    public static final double USUAL_SOUND_RATIO = 0.2;

    /** A confirmed repair counts as much as this share of the usual weights' total. */
    private static final double CONFIRMED_RATIO = 0.03;

    private final double soundRatio;
    private final double[] weights = new double[PartFault.values().length];

    private Priors(double soundRatio, Map<UnitPart, Double> partWeights) {
        this.soundRatio = soundRatio;
        double total =
                partWeights.values().stream().mapToDouble(Double::doubleValue).sum();
        for (PartFault fault : PartFault.values()) {
            double siblings = 0;
            for (PartFault other : PartFault.values()) {
                siblings += other.part() == fault.part() ? other.shareRatio() : 0;
            }
            double weight = partWeights.getOrDefault(fault.part(), 0.0);
            weights[fault.ordinal()] =
                    total > 0 ? weight / total * fault.shareRatio() / siblings : 1.0 / weights.length;
        }
    }

    /**
     * Priors of a profile.
     *
     * @param profileWeights weights the profile states; the others are the usual ones
     * @param confirmed repairs confirmed in the archive, by part: every one shifts the weights a little
     */
    public static Priors of(Map<UnitPart, Double> profileWeights, Map<UnitPart, Integer> confirmed) {
        Map<UnitPart, Double> weights = new EnumMap<>(UnitPart.class);
        double total = 0;
        for (UnitPart part : UnitPart.values()) {
            double weight = profileWeights.getOrDefault(part, part.usualWeightRatio());
            weights.put(part, weight);
            total += weight;
        }
        double perRepair = CONFIRMED_RATIO * total;
        confirmed.forEach((part, count) -> weights.merge(part, count * perRepair, Double::sum));
        return new Priors(USUAL_SOUND_RATIO, weights);
    }

    /** The usual ones. */
    public static Priors usual() {
        return of(Map.of(), Map.of());
    }

    /** Every fault as probable as every other: for a population made so. */
    public static Priors even(double soundRatio) {
        Priors priors = new Priors(soundRatio, Map.of());
        java.util.Arrays.fill(priors.weights, 1.0 / priors.weights.length);
        return priors;
    }

    /** Probability before any reading; −1 is a sound unit. */
    double of(int fault) {
        return fault < 0 ? soundRatio : (1 - soundRatio) * weights[fault];
    }
}

package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import railproof.profile.UnitPart;

/**
 * Where to put the probe next: for every node not read yet, the bits by which the uncertainty about the part would be
 * expected to shrink. Worked out by drawing what the node would show, from what is believed now, and asking each time
 * what would be believed then. The same seed gives the same advice.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
final class NextProbe {
    private static final long SEED = 8;
    private static final int DRAWS = 160;
    private static final double WORTH_RATIO = 1e-5;
    /** What a hand-held meter adds in the space of comparison: half a percent of a level, 5 % of a ripple. */
    private static final double METER_U = 0.005;

    private static final double RIPPLE_U = 0.05;

    private final Posterior now;
    private final double[] weights;
    private final List<SeverityBand> bands = new ArrayList<>();
    private final List<Double> priorLog = new ArrayList<>();
    private final Readings readings;

    private NextProbe(Posterior now, Readings readings) {
        this.now = now;
        this.readings = readings;
        double[] logs = now.bandLog();
        double most = Arrays.stream(logs).max().orElse(0);
        double[] kept = new double[logs.length];
        int count = 0;
        for (int b = 0; b < logs.length; b++) {
            if (Math.exp(logs[b] - most) > WORTH_RATIO) {
                SeverityBand band = now.dictionary().bands.get(b);
                bands.add(band);
                priorLog.add(Posterior.logBandPrior(now.dictionary(), now.priors(), band));
                kept[count++] = Math.exp(logs[b] - most);
            }
        }
        double sum = Arrays.stream(kept).sum();
        weights = Arrays.stream(kept, 0, count).map(w -> w / sum).toArray();
    }

    /** All nodes not read yet, the most telling first. */
    static List<Diagnosis.Advice> rank(Posterior now, Readings readings) {
        NextProbe probe = new NextProbe(now, readings);
        List<Diagnosis.Advice> advice = new ArrayList<>();
        for (ProbeNode node : EnumSet.complementOf(nodes(readings))) {
            advice.add(new Diagnosis.Advice(node, probe.bits(node)));
        }
        advice.sort(
                Comparator.comparingDouble(Diagnosis.Advice::bitsDimensionless).reversed());
        return advice;
    }

    private static EnumSet<ProbeNode> nodes(Readings readings) {
        EnumSet<ProbeNode> nodes = EnumSet.noneOf(ProbeNode.class);
        nodes.addAll(readings.nodes());
        return nodes;
    }

    /** What would be read there: what a meter shows, under the conditions that are in use already. */
    private List<Feature> obtainable(ProbeNode node) {
        Set<Condition> used = EnumSet.noneOf(Condition.class);
        readings.values().keySet().forEach(feature -> used.add(feature.at()));
        if (used.isEmpty() || node == ProbeNode.LOAD_TESTS || node == ProbeNode.LINE) {
            used.add(Condition.NO_LOAD);
            used.add(Condition.FULL_LOAD);
        }
        List<Feature> features = new ArrayList<>();
        for (Feature feature : Feature.ALL) {
            boolean meter =
                    switch (feature.sight()) {
                        case OUTPUT_REST, OUTPUT_FAST, OUTPUT_DIP, RAW_FALL -> false;
                        default -> true;
                    };
            if (meter && feature.sight().node() == node && used.contains(feature.at())) {
                features.add(feature);
            }
        }
        return features;
    }

    private double bits(ProbeNode node) {
        List<Feature> fresh = obtainable(node);
        int old = readings.values().size();
        int all = old + fresh.size();
        if (fresh.isEmpty()) {
            return 0;
        }
        int[] places = new int[all];
        double[] y = new double[all];
        double[] variance = new double[all];
        Compared compared = Compared.of(now.dictionary().space, readings);
        System.arraycopy(compared.places(), 0, places, 0, old);
        System.arraycopy(compared.y(), 0, y, 0, old);
        System.arraycopy(compared.variance(), 0, variance, 0, old);
        int k = old;
        for (Feature feature : fresh) {
            places[k] = feature.index();
            double u = feature.sight().modelU() > 0.03 ? RIPPLE_U : METER_U;
            variance[k++] = u * u;
        }
        return gain(new Plan(places, y, variance, old));
    }

    /** Places of the readings, those there are before those there would be, with their variances. */
    @SuppressWarnings("ArrayRecordComponent") // a bundle that nobody compares
    private record Plan(int[] places, double[] y, double[] variance, int old) {}

    private double gain(Plan plan) {
        int all = plan.places().length;
        Cholesky[] factors = new Cholesky[bands.size()];
        double[] constant = new double[bands.size()];
        for (int b = 0; b < factors.length; b++) {
            factors[b] = new Compared(plan.places(), plan.y(), plan.variance()).factor(bands.get(b));
            constant[b] = factors[b].logDeterminant();
        }
        SplittableRandom random = new SplittableRandom(SEED);
        double after = 0;
        double[] logs = new double[bands.size()];
        double[] would = new double[all];
        for (int i = 0; i < DRAWS; i++) {
            draw(plan, factors, (i + random.nextDouble()) / DRAWS, random, would);
            for (int b = 0; b < logs.length; b++) {
                double[] off = new double[all];
                for (int f = 0; f < all; f++) {
                    off[f] = would[f] - bands.get(b).mean[plan.places()[f]];
                }
                factors[b].forward(off);
                logs[b] = priorLog.get(b) + Posterior.logDensity(off, constant[b]);
            }
            after += entropy(normalised(logs)) / DRAWS;
        }
        return Math.max(0, entropy(weights) - after);
    }

    /** What would be read, drawn from one band given what was read already. */
    private void draw(Plan plan, Cholesky[] factors, double rank, SplittableRandom random, double[] into) {
        int chosen = 0;
        double left = rank;
        while (chosen < weights.length - 1 && left > weights[chosen]) {
            left -= weights[chosen++];
        }
        double[] mean = bands.get(chosen).mean;
        double[] white = new double[plan.places().length];
        for (int f = 0; f < plan.old(); f++) {
            white[f] = plan.y()[f] - mean[plan.places()[f]];
        }
        // of the lower triangle only the first rows matter for the first unknowns
        factors[chosen].forward(white);
        for (int f = plan.old(); f < white.length; f++) {
            white[f] = random.nextGaussian();
        }
        double[] drawn = factors[chosen].times(white);
        for (int f = 0; f < into.length; f++) {
            into[f] = f < plan.old() ? plan.y()[f] : drawn[f] + mean[plan.places()[f]];
        }
    }

    private static double[] normalised(double[] logs) {
        double most = Arrays.stream(logs).max().orElse(0);
        double[] w = Arrays.stream(logs).map(l -> Math.exp(l - most)).toArray();
        double sum = Arrays.stream(w).sum();
        return Arrays.stream(w).map(x -> x / sum).toArray();
    }

    /** Uncertainty about the part, bits. */
    private double entropy(double[] bandWeights) {
        Map<UnitPart, Double> parts = new EnumMap<>(UnitPart.class);
        double sound = 0;
        for (int b = 0; b < bandWeights.length; b++) {
            int fault = bands.get(b).fault;
            if (fault < 0) {
                sound += bandWeights[b];
            } else {
                parts.merge(PartFault.values()[fault].part(), bandWeights[b], Double::sum);
            }
        }
        double bits = ofOne(sound);
        for (double p : parts.values()) {
            bits += ofOne(p);
        }
        return bits;
    }

    private static double ofOne(double p) {
        return p > 0 ? -p * Math.log(p) / Math.log(2) : 0;
    }
}

package railproof.diagnosis;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.LineRating;
import railproof.profile.PartList;
import railproof.profile.PartValue;
import railproof.profile.Rail;

/**
 * Part values as the readings have them. All values of {@link UnitModel} together are fitted to all readings by
 * Gauss and Newton's method; before the readings speak, the parts asked for may be anything within a factor of several,
 * the others what their tolerances say. The uncertainty of each comes from the same equations, so a value that the
 * readings do not bear on keeps its wide one, and is then not shown.
 *
 * <p>Holds while the unit works after a fashion: a shorted transistor has no part value to fit.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
public final class PartFit {
    private static final int ROUNDS = 8;
    private static final double PROBE = 0.05;
    private static final double[] LESS = {0.5, 0.25, 0.1};
    private static final double[] MORE = {2, 4, 10, 30};
    /** Where the readings narrow a value down by less than this, they say nothing of it. */
    private static final double TOLD_RATIO = 0.5;

    private static final Set<PartValue> ASKED = Set.of(
            PartValue.RESERVOIR,
            PartValue.RESERVOIR_ESR,
            PartValue.WINDING,
            PartValue.SENSE,
            PartValue.REFERENCE,
            PartValue.BASE_FEED,
            PartValue.DIVIDER_UPPER);

    private final Rail rail;
    private final LineRating line;
    private final PartList parts;
    private final Space space;
    private final Readings readings;
    private final double[] priorVariance = new double[Circuit.DRAWS];

    private PartFit(Rail rail, LineRating line, PartList parts, Readings readings) {
        this.rail = rail;
        this.line = line;
        this.parts = parts;
        this.readings = readings;
        this.space = new Space(Math.abs(rail.nominalV()), rail.ratedCurrentA());
    }

    /**
     * One fitted part.
     *
     * @param part which
     * @param fitted what the readings say, SI
     * @param nominalDimensionless what the circuit diagram says, SI
     * @param toleranceRatio half width of what is allowed
     */
    public record Fitted(PartValue part, Measured fitted, double nominalDimensionless, double toleranceRatio) {
        /** Whether it lies outside its tolerance by more than the expanded uncertainty (k = 2). */
        public boolean outside() {
            double ratio = Math.abs(Math.log(fitted.value() / nominalDimensionless));
            return ratio - 2 * fitted.standardU() / fitted.value() > Math.log1p(toleranceRatio);
        }
    }

    /** The parts of the profile that the readings bear on; empty without part values in the profile. */
    public static List<Fitted> of(Rail rail, LineRating line, Readings readings) {
        return rail.parts()
                .map(parts -> new PartFit(rail, line, parts, readings).fit())
                .orElse(List.of());
    }

    private double tolerance(PartValue value) {
        return Math.log1p(parts.of(value).toleranceRatio());
    }

    private List<Fitted> fit() {
        java.util.Arrays.fill(priorVariance, 1.0 / 3);
        for (PartValue value : ASKED) {
            double looseLog =
                    switch (value) {
                        case REFERENCE, DIVIDER_UPPER -> 0.15;
                        case RESERVOIR_ESR -> 2;
                        default -> 1.2;
                    };
            double wide = looseLog / tolerance(value);
            priorVariance[value.ordinal()] = Math.max(1.0 / 3, wide * wide);
        }
        double[] draw = start();
        double best = misfit(draw);
        double[][] normal = new double[0][];
        for (int round = 0; round < ROUNDS; round++) {
            double[][] slopes = slopes(draw);
            normal = normal(slopes);
            double[] step = Cholesky.of(normal).solve(downhill(draw, slopes));
            double share = 1;
            double[] tried = moved(draw, step, share);
            double found = misfit(tried);
            while (found > best && share > 0.05) {
                share *= 0.5;
                tried = moved(draw, step, share);
                found = misfit(tried);
            }
            boolean done = best - found < 1e-3;
            if (found < best) {
                best = found;
                draw = tried;
            }
            if (done) {
                break;
            }
        }
        return results(draw, Cholesky.of(normal), best);
    }

    /** Of a few ways in which the source side can be off, the one nearest to the readings: valleys lie between them. */
    private double[] start() {
        double[] best = new double[Circuit.DRAWS];
        double least = misfit(best);
        for (PartValue part : new PartValue[] {PartValue.RESERVOIR, PartValue.RESERVOIR_ESR, PartValue.WINDING}) {
            for (double factor : part == PartValue.RESERVOIR ? LESS : MORE) {
                double[] tried = new double[Circuit.DRAWS];
                tried[part.ordinal()] = Math.log(factor) / tolerance(part);
                double misfit = misfit(tried);
                if (misfit < least) {
                    least = misfit;
                    best = tried;
                }
            }
        }
        return best;
    }

    private static double[] moved(double[] from, double[] step, double share) {
        double[] to = from.clone();
        for (int j = 0; j < to.length; j++) {
            to[j] += share * step[j];
        }
        return to;
    }

    private double[] model(double[] draw) {
        Circuit circuit = new Circuit(parts, false, space.nominalV(), space.ratedA(), draw);
        double[] natural = new UnitModel(circuit, rail, line).readings();
        double[] compared = new double[natural.length];
        for (int f = 0; f < compared.length; f++) {
            compared[f] = space.compared(Feature.ALL.get(f), natural[f]);
        }
        return compared;
    }

    private double weight(Feature feature, Measured value) {
        double u = space.comparedU(feature, value.value(), value.standardU());
        double modelU = feature.sight().modelU();
        return 1 / (u * u + modelU * modelU);
    }

    /** Sum of squares, prior included. */
    private double misfit(double[] draw) {
        double[] model = model(draw);
        double sum = 0;
        for (Map.Entry<Feature, Measured> each : readings.values().entrySet()) {
            Feature feature = each.getKey();
            double off = space.compared(feature, each.getValue().value()) - model[feature.index()];
            sum += weight(feature, each.getValue()) * off * off;
        }
        for (int j = 0; j < draw.length; j++) {
            sum += draw[j] * draw[j] / priorVariance[j];
        }
        return sum;
    }

    private double[][] slopes(double[] draw) {
        double[][] slopes = new double[draw.length][];
        double[] here = model(draw);
        for (int j = 0; j < draw.length; j++) {
            double[] up = draw.clone();
            up[j] += PROBE;
            double[] high = model(up);
            slopes[j] = new double[high.length];
            for (int f = 0; f < high.length; f++) {
                slopes[j][f] = (high[f] - here[f]) / PROBE;
            }
        }
        return slopes;
    }

    private double[][] normal(double[][] slopes) {
        int n = slopes.length;
        double[][] normal = new double[n][n];
        for (Map.Entry<Feature, Measured> each : readings.values().entrySet()) {
            int f = each.getKey().index();
            double weight = weight(each.getKey(), each.getValue());
            for (int j = 0; j < n; j++) {
                for (int k = 0; k < n; k++) {
                    normal[j][k] += weight * slopes[j][f] * slopes[k][f];
                }
            }
        }
        for (int j = 0; j < n; j++) {
            normal[j][j] += 1 / priorVariance[j];
        }
        return normal;
    }

    private double[] downhill(double[] draw, double[][] slopes) {
        double[] model = model(draw);
        double[] right = new double[draw.length];
        for (Map.Entry<Feature, Measured> each : readings.values().entrySet()) {
            Feature feature = each.getKey();
            double off = space.compared(feature, each.getValue().value()) - model[feature.index()];
            for (int j = 0; j < right.length; j++) {
                right[j] += weight(feature, each.getValue()) * off * slopes[j][feature.index()];
            }
        }
        for (int j = 0; j < right.length; j++) {
            right[j] -= draw[j] / priorVariance[j];
        }
        return right;
    }

    private List<Fitted> results(double[] draw, Cholesky normal, double misfit) {
        // a fit worse than the uncertainties allow widens them (Birge ratio)
        double birge =
                Math.sqrt(Math.max(1, misfit / Math.max(1, readings.values().size())));
        List<Fitted> results = new ArrayList<>();
        for (PartValue value : PartValue.values()) {
            if (!ASKED.contains(value)) {
                continue;
            }
            int j = value.ordinal();
            double[] unit = new double[draw.length];
            unit[j] = 1;
            double u = Math.sqrt(normal.solve(unit)[j]) * birge;
            if (u > TOLD_RATIO * Math.sqrt(priorVariance[j])) {
                continue;
            }
            double fitted = parts.nominal(value) * Math.exp(tolerance(value) * draw[j]);
            results.add(new Fitted(
                    value,
                    Measured.of(fitted, fitted * tolerance(value) * u, unit(value)),
                    parts.nominal(value),
                    parts.of(value).toleranceRatio()));
        }
        return results;
    }

    private static Unit unit(PartValue value) {
        return value.key().endsWith("_uF") ? Unit.FARAD : value.key().endsWith("_V") ? Unit.VOLT : Unit.OHM;
    }
}

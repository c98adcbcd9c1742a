package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.LineRating;
import railproof.profile.PartList;
import railproof.profile.PartValue;
import railproof.profile.Rail;
import railproof.profile.UnitPart;

/**
 * Part values as the readings have them, given the fault that the diagnosis takes for the most probable. All values of
 * {@link UnitModel} and the severity of that fault are fitted to all readings ({@link LeastSquares}); before the readings
 * speak, the suspected part, and those of the source in any case, may be anything within a factor of several, the others
 * what their tolerances say; in a unit taken for sound, all parts asked for may be anything.
 *
 * <p>A fit claims no more than the readings carry. One that misses them by more than chance allows is not shown at all: the
 * unit then is not what it was taken for. A part whose value the readings hardly narrow down is left out, and so is one
 * that can be moved without the readings minding, whatever the slopes at the best fit promise.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
public final class PartFit {
    private static final double[] LESS = {0.5, 0.25, 0.1};
    private static final double[] MORE = {2, 4, 10, 30};
    /** Where the readings narrow a value down by less than this, they say nothing of it. */
    private static final double TOLD_RATIO = 0.5;
    /** A value that may be half or twice as much (k = 2) is not known. */
    private static final double KNOWN_LOG_U = 0.5 * Math.log(2);

    /** Below this there is no loop: the output is lost. */
    private static final double LEAST_GAIN = 1;

    private static final int SEVERITY = Circuit.DRAWS;
    private static final int LOOP_GAIN = Feature.ALL.size();

    /** What the raw side's waveform shows, however little the regulator works. */
    private static final Set<PartValue> OF_THE_SOURCE =
            Set.of(PartValue.RESERVOIR, PartValue.RESERVOIR_ESR, PartValue.WINDING);

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
    /** A fault that is no matter of one of the parts asked for. */
    private final Optional<PartFault> fault;

    private final double[] priorVariance = new double[Circuit.DRAWS + 1];

    private PartFit(Rail rail, LineRating line, PartList parts, Diagnosis diagnosis) {
        this.rail = rail;
        this.line = line;
        this.parts = parts;
        this.readings = diagnosis.readings();
        this.space = new Space(Math.abs(rail.nominalV()), rail.ratedCurrentA());
        Optional<PartFault> suspected = Optional.of(diagnosis)
                .filter(d -> !d.sound())
                .map(d -> d.suspects().get(0).fault());
        this.fault = suspected.filter(f -> !isPartValue(f));
        Arrays.fill(priorVariance, 1.0 / 3);
        for (PartValue value : ASKED) {
            boolean open = OF_THE_SOURCE.contains(value)
                    || suspected.isEmpty()
                    || suspected.get().part() == partOf(value);
            if (!open) {
                continue;
            }
            double looseLog =
                    switch (value) {
                        case REFERENCE, DIVIDER_UPPER -> 0.15;
                        case RESERVOIR_ESR -> 2;
                        default -> 1.2;
                    };
            double wide = looseLog / tolerance(value);
            priorVariance[value.ordinal()] = Math.max(1.0 / 3, wide * wide);
        }
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

    /**
     * A gain that no part has by itself.
     *
     * @param fitted what the readings say
     * @param nominalDimensionless what the nominal parts would give
     */
    public record FittedGain(Measured fitted, double nominalDimensionless) {}

    /**
     * What was fitted.
     *
     * @param parts those that the readings bear on
     * @param loopGain loop gain at full load, if they bear on it
     * @param refused whether nothing is shown because the fit misses the readings by more than chance allows
     */
    public record Result(List<Fitted> parts, Optional<FittedGain> loopGain, boolean refused) {
        public Result {
            parts = List.copyOf(parts);
        }

        /** Nothing to show. */
        public static Result nothing(boolean refused) {
            return new Result(List.of(), Optional.empty(), refused);
        }
    }

    /** The parts of the profile that the readings bear on; nothing without part values in the profile. */
    public static Result of(Rail rail, LineRating line, Diagnosis diagnosis) {
        if (rail.parts().isEmpty() || diagnosis.readings().values().isEmpty()) {
            return Result.nothing(false);
        }
        return new PartFit(rail, line, rail.parts().get(), diagnosis).fit();
    }

    private static boolean isPartValue(PartFault fault) {
        return switch (fault) {
            case JOINT_RESISTIVE, RESERVOIR_LOW, RESERVOIR_ESR, FEED_HIGH, SENSE_HIGH, UPPER_HIGH -> true;
            default -> false;
        };
    }

    private static UnitPart partOf(PartValue value) {
        return switch (value) {
            case SENSE -> UnitPart.SENSE_RESISTOR;
            case REFERENCE -> UnitPart.REFERENCE_DIODE;
            case BASE_FEED -> UnitPart.BASE_FEED;
            case DIVIDER_UPPER -> UnitPart.DIVIDER_UPPER;
            case WINDING -> UnitPart.SECONDARY_JOINT;
            default -> UnitPart.RESERVOIR_CAPACITOR;
        };
    }

    private double tolerance(PartValue value) {
        return Math.log1p(parts.of(value).toleranceRatio());
    }

    private Result fit() {
        LeastSquares problem = new LeastSquares(this::model, targets(), priorVariance);
        LeastSquares.Minimum best = problem.lowest(starts());
        int told = 0;
        List<Fitted> results = new ArrayList<>();
        int count = readings.values().size();
        for (PartValue value : PartValue.values()) {
            int j = value.ordinal();
            told += best.u(j) < TOLD_RATIO * Math.sqrt(priorVariance[j]) ? 1 : 0;
        }
        int free = Math.max(1, count - told);
        if (best.dataMisfitDimensionless() > ChiSquare.rare(free)) {
            return Result.nothing(true);
        }
        // a fit worse than the uncertainties allow widens them (Birge ratio)
        double birge = Math.sqrt(Math.max(1, best.dataMisfitDimensionless() / free));
        for (PartValue value : PartValue.values()) {
            int j = value.ordinal();
            double u = best.u(j) * birge;
            if (!ASKED.contains(value) || u > TOLD_RATIO * Math.sqrt(priorVariance[j])) {
                continue;
            }
            double u2 = birge * problem.checkedU(best, j);
            if (u2 > TOLD_RATIO * Math.sqrt(priorVariance[j]) || tolerance(value) * u2 > KNOWN_LOG_U) {
                continue;
            }
            double fitted = parts.nominal(value) * Math.exp(tolerance(value) * best.at()[j]);
            results.add(new Fitted(
                    value,
                    Measured.of(fitted, fitted * tolerance(value) * u2, unit(value)),
                    parts.nominal(value),
                    parts.of(value).toleranceRatio()));
        }
        return new Result(results, loopGain(best, birge), false);
    }

    private Optional<FittedGain> loopGain(LeastSquares.Minimum best, double birge) {
        double u = birge * best.u(LOOP_GAIN, false);
        if (u > TOLD_RATIO * best.u(LOOP_GAIN, true) || u > KNOWN_LOG_U) {
            return Optional.empty();
        }
        double gain = Math.exp(best.outputs()[LOOP_GAIN]);
        if (gain < LEAST_GAIN) {
            return Optional.empty();
        }
        double nominal = Math.exp(model(new double[SEVERITY + 1], Optional.empty())[LOOP_GAIN]);
        return Optional.of(new FittedGain(Measured.of(gain, u * gain, Unit.RATIO), nominal));
    }

    /** Ways in which the unit can be off: valleys lie between them. */
    private List<double[]> starts() {
        List<double[]> starts = new ArrayList<>();
        double[] severities = fault.isPresent() ? new double[] {-0.7, 0, 0.7} : new double[] {0};
        for (double severity : severities) {
            double[] start = new double[SEVERITY + 1];
            start[SEVERITY] = severity;
            starts.add(start);
            for (PartValue part : new PartValue[] {
                PartValue.RESERVOIR, PartValue.RESERVOIR_ESR, PartValue.WINDING, PartValue.SENSE, PartValue.BASE_FEED
            }) {
                for (double factor : part == PartValue.RESERVOIR ? LESS : MORE) {
                    double[] tried = start.clone();
                    tried[part.ordinal()] = Math.log(factor) / tolerance(part);
                    starts.add(tried);
                }
            }
        }
        return starts;
    }

    /** All features in the space of comparison, and last the logarithm of the loop gain. */
    private double[] model(double[] at) {
        return model(at, fault);
    }

    private double[] model(double[] at, Optional<PartFault> placed) {
        Circuit circuit = new Circuit(parts, false, space.nominalV(), space.ratedA(), at);
        double severityRatio = Math.min(1, Math.max(0, 0.5 + 0.5 * at[SEVERITY]));
        placed.ifPresent(f -> f.place(circuit, severityRatio));
        UnitModel unit = new UnitModel(circuit, rail, line);
        double[] natural = unit.readings();
        double[] compared = new double[natural.length + 1];
        for (int f = 0; f < natural.length; f++) {
            compared[f] = space.compared(Feature.ALL.get(f), natural[f]);
        }
        compared[LOOP_GAIN] = Math.log(Math.max(1e-3, unit.loopGain()));
        return compared;
    }

    private List<LeastSquares.Target> targets() {
        double[] sound = model(new double[SEVERITY + 1], Optional.empty());
        List<LeastSquares.Target> targets = new ArrayList<>();
        for (Map.Entry<Feature, Measured> each : readings.values().entrySet()) {
            Feature feature = each.getKey();
            Measured value = each.getValue();
            double y = space.compared(feature, value.value());
            double u = space.comparedU(feature, value.value(), value.standardU());
            Feature output = new Feature(Sight.OUTPUT, feature.at());
            double outputOff = readings.of(output.sight(), output.at())
                    .map(out -> space.compared(output, out.value()) - sound[output.index()])
                    .orElse(0.0);
            double doubt = ModelDoubt.variance(feature, y - sound[feature.index()], outputOff);
            targets.add(new LeastSquares.Target(feature.index(), y, 1 / (u * u + doubt)));
        }
        targets.sort(Comparator.comparingInt(LeastSquares.Target::place));
        return targets;
    }

    private static Unit unit(PartValue value) {
        return value.key().endsWith("_uF") ? Unit.FARAD : value.key().endsWith("_V") ? Unit.VOLT : Unit.OHM;
    }
}

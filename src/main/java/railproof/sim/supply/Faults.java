package railproof.sim.supply;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.random.RandomGenerator;

/** Puts faults into circuits. */
final class Faults {
    private static final double OPEN_EXPONENT_DIMENSIONLESS = 9;
    private static final double SHORT_EXPONENT_DIMENSIONLESS = 6;
    private static final double PASS_SHORT_OHM = 0.02;
    private static final double SIGNAL_SHORT_OHM = 1;
    private static final double MOST_LOST_RATIO = 0.99;
    /** The rail on which the fault dictionary was worked out. */
    private static final double DICTIONARY_OHM = 6;
    /** Raw voltage against output voltage, typically. */
    private static final double RAW_RATIO = 1.6;

    private static final double RING_HZ = 37_300;

    private Faults() {}

    /**
     * Changes a circuit; gives the process behind the fault if it has one.
     *
     * @throws IllegalArgumentException if the rail does not have the part that is to be broken
     */
    static Optional<FaultProcess> place(PlacedFault placed, RailCircuit circuit, RandomGenerator random) {
        double severityRatio = placed.severityRatio();
        requireFitted(placed.fault(), circuit.design);
        circuit.touch();
        if (severityRatio == 0) {
            return Optional.empty();
        }
        switch (placed.fault()) {
            case CRACKED_JOINT -> {
                return Optional.of(new ChangingFaults.CrackedJoint(circuit, severityRatio));
            }
            case INTERMITTENT_PASS_TRANSISTOR -> {
                return Optional.of(new ChangingFaults.IntermittentPass(circuit, severityRatio, random));
            }
            case NOISY_REFERENCE -> {
                return Optional.of(new ChangingFaults.NoisyReference(circuit, severityRatio, random));
            }
            case DRIFTING_REFERENCE -> {
                return Optional.of(new ChangingFaults.DriftingReference(circuit, severityRatio));
            }
            default -> {
                if (!placeOnSource(placed.fault(), severityRatio, circuit)) {
                    placeOnRegulator(placed.fault(), severityRatio, circuit);
                }
                return Optional.empty();
            }
        }
    }

    private static boolean placeOnSource(Fault fault, double severityRatio, RailCircuit circuit) {
        RailDesign design = circuit.design;
        double scaleRatio = design.ratedOhm() / DICTIONARY_OHM;
        switch (fault) {
            case LOW_LINE -> circuit.inletRatio *= 1 - 0.3 * severityRatio;
            case WRONG_TRANSFORMER_TAP -> circuit.tapRatio *= 1 + 0.3 * severityRatio;
            case OPEN_RECTIFIER_DIODE -> circuit.diodeSeriesOhm = openOhm(severityRatio);
            case RESERVOIR_LOW_CAPACITANCE -> circuit.reservoirF *= 1 - Math.min(severityRatio, MOST_LOST_RATIO);
            case RESERVOIR_HIGH_ESR ->
                circuit.reservoirEsrOhm = Math.max(circuit.reservoirEsrOhm, 2 * severityRatio * scaleRatio);
            case LEAKY_RESERVOIR -> {
                double leakOhm = RAW_RATIO * design.ratedOhm() / (0.5 * severityRatio);
                circuit.reservoirLeakOhm = 1 / (1 / leakOhm + 1 / circuit.reservoirLeakOhm);
            }
            case SECONDARY_JOINT_RESISTANCE -> circuit.windingOhm += 2 * severityRatio * scaleRatio;
            case SWOLLEN_OUTPUT_CAPACITOR -> {
                circuit.outputF *= 1 - 0.95 * severityRatio;
                circuit.outputEsrOhm *= 1 + 100 * severityRatio;
            }
            case HIGH_FREQUENCY_OSCILLATION -> {
                circuit.oscillationV = 0.02 * severityRatio * design.nominalV();
                circuit.oscillationHz = RING_HZ;
            }
            default -> {
                return false;
            }
        }
        return true;
    }

    private static void placeOnRegulator(Fault fault, double severityRatio, RailCircuit circuit) {
        switch (fault) {
            case PASS_TRANSISTOR_SHORT -> circuit.passShortOhm = shortOhm(PASS_SHORT_OHM, severityRatio);
            case PASS_TRANSISTOR_OPEN -> circuit.passCollectorOhm = openOhm(severityRatio);
            case DRIVER_OPEN -> circuit.driverCollectorOhm = openOhm(severityRatio);
            case DRIVER_LOW_GAIN -> circuit.driverGainRatio *= 1 - Math.min(severityRatio, MOST_LOST_RATIO);
            case BASE_FEED_HIGH -> circuit.feedOhm *= 1 + 18 * severityRatio;
            case REFERENCE_SHORT -> circuit.referenceShortOhm = shortOhm(SIGNAL_SHORT_OHM, severityRatio);
            case REFERENCE_OPEN -> circuit.referenceSeriesOhm = openOhm(severityRatio);
            case ERROR_TRANSISTOR_OPEN -> circuit.errorCollectorOhm = openOhm(severityRatio);
            case ERROR_TRANSISTOR_SHORT -> circuit.errorShortOhm = shortOhm(SIGNAL_SHORT_OHM, severityRatio);
            case DIVIDER_UPPER_OPEN ->
                circuit.dividerUpperOhm = Math.max(circuit.dividerUpperOhm, openOhm(severityRatio));
            case DIVIDER_UPPER_HIGH -> circuit.dividerUpperOhm *= 1 + 0.2 * severityRatio;
            case DIVIDER_LOWER_OPEN ->
                circuit.dividerLowerOhm = Math.max(circuit.dividerLowerOhm, openOhm(severityRatio));
            case SENSE_RESISTOR_HIGH -> circuit.senseOhm *= 1 + 2 * severityRatio;
            case LIMIT_TRANSISTOR_SHORT -> circuit.limitShortOhm = shortOhm(SIGNAL_SHORT_OHM, severityRatio);
            case LIMIT_TRANSISTOR_OPEN -> circuit.limitCollectorOhm = openOhm(severityRatio);
            default -> throw new IllegalStateException("no place for " + fault.label());
        }
    }

    /** A part that a rail does not have cannot be broken. */
    private static void requireFitted(Fault fault, RailDesign design) {
        String missing = missing(fault, design);
        if (!missing.isEmpty()) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT, "fault %s: not on rail \"%s\", %s", fault.label(), design.name(), missing));
        }
    }

    /** Why a fault cannot be on a rail, in words; empty if it can. */
    static String missing(Fault fault, RailDesign design) {
        return switch (fault) {
            case DRIVER_OPEN, DRIVER_LOW_GAIN ->
                design.pass().driver().isPresent() ? "" : "its pass transistor has no driver";
            case SENSE_RESISTOR_HIGH, LIMIT_TRANSISTOR_SHORT, LIMIT_TRANSISTOR_OPEN ->
                design.limiter() instanceof LimiterDesign.None ? "nothing limits its current" : "";
            default -> "";
        };
    }

    private static double openOhm(double severityRatio) {
        return Math.pow(10, OPEN_EXPONENT_DIMENSIONLESS * severityRatio);
    }

    private static double shortOhm(double deadShortOhm, double severityRatio) {
        return deadShortOhm * Math.pow(10, SHORT_EXPONENT_DIMENSIONLESS * (1 - severityRatio));
    }

    /** Places all faults; gives the processes with the rails they watch. */
    static void placeAll(
            List<PlacedFault> faults,
            List<String> railNames,
            List<RailCircuit> circuits,
            RandomGenerator random,
            List<RailProcess> into) {
        for (PlacedFault placed : faults) {
            if (placed.fault().wholeUnit()) {
                circuits.forEach(circuit -> place(placed, circuit, random));
            } else {
                int rail = placed.railAmong(railNames);
                place(placed, circuits.get(rail), random)
                        .ifPresent(process -> into.add(new RailProcess(rail, process)));
            }
        }
    }

    /** A process and the rail it watches. */
    record RailProcess(int rail, FaultProcess process) {}
}

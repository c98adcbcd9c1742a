package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import railproof.profile.SupplyStage;
import railproof.profile.UnitPart;

/**
 * What the readings of one rail say: suspects in order, what speaks for and against each, what cannot be told apart, and
 * where to probe next.
 *
 * <p>Thread: immutable; any.
 *
 * @param readings what it rests on
 * @param soundRatio probability that nothing is wrong
 * @param stages all stages, the most probable first
 * @param suspects all parts, the most probable first
 * @param alike the first suspects, if these readings do not tell them apart; empty if they do
 * @param next nodes not read yet, the most telling first
 * @param unexplained whether the readings are so far from sound units and from every fault of the catalogue that chance
 *     makes less than one unit in a hundred like that: two faults at once, one that is not in the catalogue, or a wrong reading
 */
public record Diagnosis(
        Readings readings,
        double soundRatio,
        List<StageSuspect> stages,
        List<PartSuspect> suspects,
        List<PartSuspect> alike,
        List<Advice> next,
        boolean unexplained) {
    /** Above this a suspect is called found: nine times in ten. */
    public static final double FOUND_RATIO = 0.9;
    /** A suspect this much less probable than the first is no twin of it. */
    private static final double TWIN_RATIO = 0.2;
    /** Suspects less probable than this are named, but not argued about. */
    private static final double ARGUED_RATIO = 0.01;

    public Diagnosis {
        stages = List.copyOf(stages);
        suspects = List.copyOf(suspects);
        alike = List.copyOf(alike);
        next = List.copyOf(next);
    }

    /**
     * A stage under suspicion.
     *
     * @param probabilityRatio that the fault is in it
     */
    public record StageSuspect(SupplyStage stage, double probabilityRatio) {}

    /**
     * A part under suspicion.
     *
     * @param fault what is most probably wrong with it
     * @param probabilityRatio that the fault is in this part
     * @param timesSoundRatio how many times as probable all readings together are with this part bad as in a sound unit
     * @param evidence readings that speak for and against it, the loudest first
     */
    public record PartSuspect(
            UnitPart part, PartFault fault, double probabilityRatio, double timesSoundRatio, List<Evidence> evidence) {
        public PartSuspect {
            evidence = List.copyOf(evidence);
        }

        /** As people say it: {@code reference diode, open}. */
        public String words() {
            return part.words() + ", " + fault.how();
        }
    }

    /**
     * Advice to probe a node.
     *
     * @param bitsDimensionless by how much the uncertainty about the part would be expected to shrink
     */
    public record Advice(ProbeNode node, double bitsDimensionless) {}

    /** Works back from the readings. */
    public static Diagnosis of(Dictionary dictionary, Priors priors, Readings readings) {
        Posterior posterior = Posterior.of(dictionary, priors, readings);
        List<PartSuspect> suspects = suspects(posterior, readings);
        return new Diagnosis(
                readings,
                posterior.sound(),
                stages(posterior),
                suspects,
                alike(suspects),
                NextProbe.rank(posterior, readings),
                posterior.strangeness() > 1);
    }

    /**
     * Whether "nothing wrong" is more probable than any part. A part that these readings cannot show keeps what it was
     * suspected of before; that alone makes no unit faulty.
     */
    public boolean sound() {
        return soundRatio > suspects.get(0).probabilityRatio();
    }

    /** Whether one part is found, as sure as nine times in ten. */
    public boolean found() {
        return suspects.get(0).probabilityRatio() >= FOUND_RATIO;
    }

    private static List<StageSuspect> stages(Posterior posterior) {
        Map<SupplyStage, Double> sums = new EnumMap<>(SupplyStage.class);
        for (PartFault fault : PartFault.values()) {
            sums.merge(fault.part().stage(), posterior.of(fault), Double::sum);
        }
        return sums.entrySet().stream()
                .map(e -> new StageSuspect(e.getKey(), e.getValue()))
                .sorted(Comparator.comparingDouble(StageSuspect::probabilityRatio)
                        .reversed())
                .toList();
    }

    private static List<PartSuspect> suspects(Posterior posterior, Readings readings) {
        Map<UnitPart, Double> sums = new EnumMap<>(UnitPart.class);
        Map<UnitPart, PartFault> most = new EnumMap<>(UnitPart.class);
        for (PartFault fault : posterior.ranked()) {
            sums.merge(fault.part(), posterior.of(fault), Double::sum);
            most.putIfAbsent(fault.part(), fault);
        }
        List<PartSuspect> suspects = new ArrayList<>();
        most.forEach((part, fault) -> {
            double p = sums.getOrDefault(part, 0.0);
            List<Evidence> evidence = p < ARGUED_RATIO ? List.of() : Evidence.of(posterior, fault, readings);
            List<PartFault> all = Arrays.stream(PartFault.values())
                    .filter(f -> f.part() == part)
                    .toList();
            suspects.add(new PartSuspect(part, fault, p, posterior.timesSound(all), evidence));
        });
        suspects.sort(Comparator.comparingDouble(PartSuspect::probabilityRatio).reversed());
        return suspects;
    }

    private static List<PartSuspect> alike(List<PartSuspect> suspects) {
        double first = suspects.get(0).probabilityRatio();
        List<PartSuspect> near = suspects.stream()
                .filter(s -> s.probabilityRatio() >= TWIN_RATIO * first)
                .toList();
        return first < FOUND_RATIO && near.size() > 1 ? near : List.of();
    }
}

package railproof.profile;

import java.time.Duration;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * Which procedures are run, and what is particular to each.
 *
 * @param procedures those asked for
 * @param sweepBack whether the load sweep goes down again, and there takes the points in between where it bent
 * @param othersLoadRatio load on all other rails while one is swept, as a part of their rated currents, 0 to 1
 * @param sumPowerMaxW largest power of all rails together, W; empty if every rail may be fully loaded at once
 * @param lineLoadFractions loads of the line sweep as fractions of the rated current, ascending; the last is 1
 * @param dropoutRatio the output is out of regulation when it has fallen by this part of its value at nominal line
 * @param first the first power-up
 * @param step the load step
 * @param start line on into a load
 * @param holdUp line off at full load
 */
public record Program(
        Set<Procedure> procedures,
        boolean sweepBack,
        double othersLoadRatio,
        OptionalDouble sumPowerMaxW,
        List<Double> lineLoadFractions,
        double dropoutRatio,
        FirstPlan first,
        StepPlan step,
        StartPlan start,
        HoldUpPlan holdUp) {
    /** What a profile without a word about it gets. */
    public static final Program DEFAULT = new Program(
            EnumSet.of(Procedure.LOAD_SWEEP, Procedure.LINE_SWEEP, Procedure.CURRENT_LIMIT),
            false,
            0,
            OptionalDouble.empty(),
            List.of(1.0),
            0.02,
            new FirstPlan(List.of(0.25, 0.5, 0.75, 1.0), OptionalDouble.empty()),
            new StepPlan(0.1, 0.9, 0.01, Duration.ofMillis(100)),
            new StartPlan(Duration.ofSeconds(1), Duration.ofSeconds(5)),
            new HoldUpPlan(Duration.ofMillis(500), 6));

    public Program {
        Set<Procedure> copy = EnumSet.noneOf(Procedure.class);
        copy.addAll(procedures);
        procedures = Collections.unmodifiableSet(copy);
        lineLoadFractions = List.copyOf(lineLoadFractions);
    }

    /** Whether it is asked for. */
    public boolean has(Procedure procedure) {
        return procedures.contains(procedure);
    }

    /**
     * The first power-up.
     *
     * @param lineFractions lines as fractions of nominal, ascending; the last is 1
     * @param lineCurrentMaxA largest current the unit may take from the line without load, A; empty if not watched
     */
    public record FirstPlan(List<Double> lineFractions, OptionalDouble lineCurrentMaxA) {
        public FirstPlan {
            lineFractions = List.copyOf(lineFractions);
        }
    }

    /**
     * A step of the load.
     *
     * @param lowRatio lower level as a part of the rated current, 0 to 1
     * @param highRatio upper level as a part of the rated current, above the lower
     * @param bandRatio half-width of the band about the final value, as a part of nominal
     * @param record how long the output is recorded after each step
     */
    public record StepPlan(double lowRatio, double highRatio, double bandRatio, Duration record) {}

    /**
     * Line off at full load.
     *
     * @param record how long the output is recorded after each line off
     * @param phases at how many phases of the line it goes off, 1 or more
     */
    public record HoldUpPlan(Duration record, int phases) {}

    /**
     * A start into a load.
     *
     * @param record how long the output is recorded after line on
     * @param off how long the line stays off before
     */
    public record StartPlan(Duration record, Duration off) {}
}

package railproof.profile;

import java.time.Duration;
import java.util.Optional;

/**
 * How the supply is burnt in: hours under load with all rails loaded at once, looked at all the time, with cold starts
 * in between. Defaults are common practice, no source.
 *
 * @param time time under load; pauses, cold starts and cooling do not count
 * @param loadRatio load of every rail against its rated current
 * @param coldStarts how often the line goes off and on again, spread evenly over the time
 * @param coldOff how long the line stays off at each
 * @param sampleEvery time between two short looks at a rail
 * @param readingEvery time between two full readings with ripple
 * @param hotAfter time under load without a break after which the unit counts as hot; at most half of each stretch
 *     between cold starts
 * @param cool time without load, line on, before the reading after cooling
 * @param driftMaxRatio largest change of an output, first hot reading to last, against the first
 * @param rippleGrowthMaxRatio largest ripple at the last hot reading, peak to peak, against the first
 * @param heatSinkMaxC hottest a heat sink may become, °C; not judged and no reason to stop if absent
 * @param warnRatio part of a limit at which a warning is given
 */
public record BurnInPlan(
        Duration time,
        double loadRatio,
        int coldStarts,
        Duration coldOff,
        Duration sampleEvery,
        Duration readingEvery,
        Duration hotAfter,
        Duration cool,
        double driftMaxRatio,
        double rippleGrowthMaxRatio,
        Optional<Double> heatSinkMaxC,
        double warnRatio) {
    /** Longest burn-in that can be asked for, h. */
    public static final int MOST_HOURS = 168;

    /** What holds where a profile says nothing. Common practice, no source. */
    public static final BurnInPlan DEFAULT = new BurnInPlan(
            Duration.ofHours(4),
            0.9,
            3,
            Duration.ofMinutes(5),
            Duration.ofSeconds(10),
            Duration.ofMinutes(10),
            Duration.ofMinutes(30),
            Duration.ofMinutes(30),
            0.01,
            2,
            Optional.empty(),
            0.7);

    public BurnInPlan {
        if (time.isNegative() || time.isZero() || time.compareTo(Duration.ofHours(MOST_HOURS)) > 0) {
            throw new IllegalArgumentException("a burn-in takes more than 0 h and at most " + MOST_HOURS + " h");
        }
    }

    /** The same for another time under load. */
    public BurnInPlan lasting(Duration other) {
        return new BurnInPlan(
                other,
                loadRatio,
                coldStarts,
                coldOff,
                sampleEvery,
                readingEvery,
                hotAfter,
                cool,
                driftMaxRatio,
                rippleGrowthMaxRatio,
                heatSinkMaxC,
                warnRatio);
    }

    /**
     * What ripple growth is counted against: the first hot reading, but no less than a tenth of the rail's own limit. A
     * ripple far below its limit may double without meaning anything. Common practice, no source.
     */
    public double rippleBaseV(double firstV, Rail rail) {
        return Math.max(firstV, 0.1 * rail.limits().ripplePpMaxV().orElse(0.0));
    }

    /** Time under load between two cold starts. */
    public Duration stretch() {
        return time.dividedBy(coldStarts + 1L);
    }

    /** Time under load without a break after which the unit counts as hot. */
    public Duration hot() {
        Duration half = stretch().dividedBy(2);
        return hotAfter.compareTo(half) < 0 ? hotAfter : half;
    }
}

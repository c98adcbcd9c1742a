package railproof.procedure;

import java.util.HashSet;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import railproof.profile.BurnInPlan;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.RunEvent;
import railproof.signal.Drift;
import railproof.signal.Trend;

/**
 * Watches one rail through a burn-in: keeps its trend in bounded memory and warns early. Each warning is said once when
 * it begins and once when it ends.
 *
 * <p>A straight line is carried on no farther than four times the record it rests on: a unit that still warms up runs
 * along an exponential, and a line through its beginning would cross every limit.
 *
 * <p>Thread: control thread only.
 */
final class BurnInWatch {
    private static final double FARTHEST_RATIO = 4;
    /** A warning ends only this far below where it began, so that noise does not repeat it. */
    private static final double RELEASE_RATIO = 0.9;

    private static final double SECONDS_PER_HOUR = 3600;

    private final Bench bench;
    private final Rail rail;
    private final BurnInPlan plan;
    private final Trend trend = new Trend();
    private final Set<String> active = new HashSet<>();
    private Optional<BurnInDone.HotReading> firstHot;
    private OptionalDouble outputV = OptionalDouble.empty();
    private OptionalDouble ripplePpV = OptionalDouble.empty();
    private OptionalDouble heatSinkC = OptionalDouble.empty();

    BurnInWatch(Bench bench, Rail rail, BurnInPlan plan, Optional<BurnInDone.HotReading> firstHot) {
        this.bench = bench;
        this.rail = rail;
        this.plan = plan;
        this.firstHot = firstHot;
    }

    Rail rail() {
        return rail;
    }

    boolean hasFirstHot() {
        return firstHot.isPresent();
    }

    void firstHot(BurnInDone.HotReading reading) {
        firstHot = Optional.of(reading);
    }

    /** The load was off: what comes now is not the same course any more. */
    void restart() {
        trend.restart();
    }

    /** Takes a short look under load. */
    void looked(double signedV, OptionalDouble sinkC) throws RunEndException {
        outputV = OptionalDouble.of(signedV);
        heatSinkC = sinkC;
        Optional<Double> maxC = plan.heatSinkMaxC();
        if (sinkC.isPresent() && maxC.isPresent()) {
            // in proportion to the rise above a warm room, not to the zero of the scale
            double partRatio = (sinkC.getAsDouble() - 25) / (maxC.get() - 25);
            tell(
                    "the heat sink nears its limit",
                    partRatio,
                    String.format(Locale.ROOT, "%.1f °C, allowed %.1f °C", sinkC.getAsDouble(), maxC.get()));
        }
    }

    /** Takes a full reading's ripple. */
    void rippled(double pp) throws RunEndException {
        ripplePpV = OptionalDouble.of(pp);
        if (firstHot.isPresent() && firstHot.get().ripplePpV() > 0) {
            double baseV = plan.rippleBaseV(firstHot.get().ripplePpV(), rail);
            double partRatio = (pp / baseV - 1) / (plan.rippleGrowthMaxRatio() - 1);
            tell(
                    "ripple grows",
                    partRatio,
                    String.format(Locale.ROOT, "%.3g V p-p, %.2f times the first hot reading's", pp, pp / baseV));
        }
    }

    /**
     * Takes a short look with the unit hot.
     *
     * @param loadedS time under load, s
     * @param leftS time under load still to come, s
     */
    void hot(double loadedS, double leftS) throws RunEndException {
        double magnitudeV = Math.abs(outputV.orElse(0));
        trend.add(loadedS, magnitudeV);
        if (firstHot.isEmpty() || trend.recent().isEmpty()) {
            return;
        }
        double firstV = firstHot.get().outputV();
        double maxV = plan.driftMaxRatio() * firstV;
        double goneV = trend.recent().get() - firstV;
        tell(
                "the output leaves its first hot reading",
                Math.abs(goneV) / maxV,
                String.format(
                        Locale.ROOT, "%+.2f %%, allowed %.2f %%", 100 * goneV / firstV, 100 * plan.driftMaxRatio()));
        Optional<Drift> drift = trend.drift();
        if (drift.isPresent()) {
            double aheadS = Math.min(leftS, FARTHEST_RATIO * trend.spanS());
            double thenV = goneV + drift.get().slopeVPerS() * aheadS;
            double partRatio = drift.get().significant() ? plan.warnRatio() * Math.abs(thenV) / maxV : 0;
            tell("the output's trend reaches the limit before the end", partRatio, words(drift.get()));
        }
    }

    /** The warning is on from the plan's part of the limit. */
    private void tell(String what, double partRatio, String now) throws RunEndException {
        if (partRatio >= plan.warnRatio() && active.add(what)) {
            bench.note(RunEvent.Note.Level.WARNING, "early warning, " + rail.name() + ": " + what + ": " + now);
        } else if (partRatio < RELEASE_RATIO * plan.warnRatio() && active.remove(what)) {
            bench.note(RunEvent.Note.Level.INFO, "warning over, " + rail.name() + ": " + what + ": " + now);
        }
    }

    private static String words(Drift drift) {
        if (!drift.significant()) {
            return "steady";
        }
        return String.format(Locale.ROOT, "%+.2g mV/h", 1000 * SECONDS_PER_HOUR * drift.slopeVPerS());
    }

    BurnInProgress.RailNow now() {
        String course = trend.drift().map(drift -> "output " + words(drift)).orElse("warming up");
        String trouble = active.isEmpty() ? "" : ", WARNING";
        return new BurnInProgress.RailNow(rail.name(), outputV, ripplePpV, heatSinkC, course + trouble);
    }
}

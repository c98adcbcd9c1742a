package railproof.procedure;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import railproof.base.Reading;
import railproof.instrument.LoadMode;
import railproof.profile.Band;
import railproof.profile.BurnInPlan;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RigControl;
import railproof.rig.RunEndException;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;

/**
 * Burn-in: no-load check, then all rails loaded at once for hours, with cold starts in between, a first and a last hot
 * reading, and a reading after cooling. Cooling is under bias: the line stays on, the load is off.
 *
 * <p>What counts is the time under load; pauses, cold starts, cooling and the gap before a resumption do not. After any
 * break the unit starts as at the beginning, without load and looked at. A break in the record stands for the cold
 * start that may have been due in it. The end waits until the unit is hot again.
 *
 * <p>An output outside its band, or a heat sink hotter than allowed, seen three times in a row, ends the run as tripped.
 * Drift and ripple are warned of and judged afterwards.
 *
 * <p>Thread: {@link #on} on the control thread; the listener is called there and must not wait.
 */
public final class BurnIn implements RigControl.Work {
    private static final Duration SLICE = Duration.ofMillis(500);
    private static final int LOOKS_TO_STOP = 3;
    /** What line and settling take at a start, for the time left. */
    private static final double START_S = 10;

    private final Profile profile;
    private final BurnInPlan plan;
    private final BurnInDone before;
    private final HoldSwitch hold;
    private final Consumer<BurnInProgress> listener;

    /**
     * A burn-in.
     *
     * @param plan the profile's, or one for another time
     * @param before what was done before it broke off
     * @param hold whether it is to stand still
     * @param listener told how it stands
     */
    public BurnIn(
            Profile profile, BurnInPlan plan, BurnInDone before, HoldSwitch hold, Consumer<BurnInProgress> listener) {
        this.profile = profile;
        this.plan = plan;
        this.before = before;
        this.hold = hold;
        this.listener = listener;
    }

    @Override
    public void on(Bench bench) throws RunEndException {
        new Going(bench).run();
    }

    /** One burn-in being done. */
    private final class Going {
        private final Bench bench;
        private final Readings readings;
        private final BurnInReadings rows;
        private final List<BurnInWatch> watches = new ArrayList<>();
        private final double askedS = plan.time().toMillis() / 1e3;
        private final double stretchS = plan.stretch().toMillis() / 1e3;
        private final double hotS = plan.hot().toMillis() / 1e3;
        private double doneS = before.loadedS();
        private double loadedSinceS;
        private boolean loaded;
        private double stretchDoneS;
        private int coldStarts;
        private double nextReadingS;

        Going(Bench bench) {
            this.bench = bench;
            readings = new Readings(bench, profile);
            rows = new BurnInReadings(bench, profile, readings, before.waveforms());
            for (Rail rail : profile.rails()) {
                watches.add(new BurnInWatch(
                        bench, rail, plan, Optional.ofNullable(before.firstHot().get(rail.name()))));
            }
        }

        void run() throws RunEndException {
            while (coldStarts < plan.coldStarts() && (coldStarts + 1) * stretchS <= doneS) {
                coldStarts++;
            }
            for (Rail rail : profile.rails()) {
                bench.envelope(rail.name(), Qualification.envelope(rail));
                bench.section(Section.BURN_IN, rail.name(), expectedPoints(plan));
            }
            startUp();
            readAll(Section.BURN_IN, true, doneS > 0 ? "after the gap" : "cold");
            nextReadingS = loadedS() + plan.readingEvery().toMillis() / 1e3;
            while (loadedS() < askedS || stretchLoadedS() < hotS) {
                step();
            }
            takeFirstHot();
            for (Point point : readAll(Section.BURN_IN_HOT, true, "last")) {
                rippled(point);
            }
            loadOff();
            waitUnloaded(plan.cool(), BurnInProgress.Phase.COOLING);
            loadOn();
            readAll(Section.BURN_IN_COOLED, true, "");
            loadOff();
            bench.lineOff();
        }

        private void step() throws RunEndException {
            if (hold.held()) {
                standStill();
            }
            if (coldStarts < plan.coldStarts() && loadedS() >= (coldStarts + 1) * stretchS && loadedS() < askedS) {
                coldStarts++;
                coldStart();
            }
            boolean hot = stretchLoadedS() >= hotS;
            for (BurnInWatch watch : watches) {
                sample(watch, hot);
            }
            if (hot) {
                takeFirstHot();
            }
            if (loadedS() >= nextReadingS) {
                for (Point point : readAll(Section.BURN_IN, false, "")) {
                    rippled(point);
                }
                nextReadingS += plan.readingEvery().toMillis() / 1e3;
            }
            tell(BurnInProgress.Phase.LOADED);
            waitForNextSample();
        }

        private void waitForNextSample() throws RunEndException {
            double everyS = plan.sampleEvery().toMillis() / 1e3;
            double nextS = everyS * (Math.floor(bench.elapsedS() / everyS) + 1);
            while (bench.elapsedS() < nextS && !hold.held()) {
                double restS = Math.max(0.001, nextS - bench.elapsedS());
                bench.pause(Duration.ofNanos((long) (1e9 * Math.min(restS, SLICE.toMillis() / 1e3))));
            }
        }

        private double loadedS() {
            return doneS + (loaded ? bench.elapsedS() - loadedSinceS : 0);
        }

        private double stretchLoadedS() {
            return loadedS() - stretchDoneS;
        }

        private void sample(BurnInWatch watch, boolean hot) throws RunEndException {
            Rail rail = watch.rail();
            String trouble = "";
            for (int i = 0; i < LOOKS_TO_STOP; i++) {
                Map<Quantity, Reading> row = rows.look(rail, loadedS(), trouble);
                double outputV = BurnInReadings.value(row, Quantity.OUTPUT).orElse(0);
                OptionalDouble sinkC = BurnInReadings.value(row, Quantity.HEAT_SINK);
                watch.looked(outputV, sinkC);
                trouble = trouble(rail, outputV, sinkC);
                if (trouble.isEmpty()) {
                    if (hot) {
                        watch.hot(loadedS(), Math.max(0, askedS - loadedS()));
                    }
                    return;
                }
            }
            throw new RunEndException(RunOutcome.End.TRIPPED, rail.name() + ": " + trouble);
        }

        private String trouble(Rail rail, double outputV, OptionalDouble sinkC) {
            Band band = rail.limits().outputV();
            if (!band.contains(outputV)) {
                return String.format(
                        Locale.ROOT,
                        "output %.4g V under load, allowed %.4g V to %.4g V",
                        outputV,
                        band.low(),
                        band.high());
            }
            Optional<Double> maxC = plan.heatSinkMaxC();
            return sinkC.isPresent() && maxC.isPresent() && sinkC.getAsDouble() > maxC.get()
                    ? String.format(
                            Locale.ROOT, "heat sink at %.1f °C, allowed %.1f °C", sinkC.getAsDouble(), maxC.get())
                    : "";
        }

        private void takeFirstHot() throws RunEndException {
            for (BurnInWatch watch : watches) {
                if (!watch.hasFirstHot()) {
                    Point point = rows.full(Section.BURN_IN_HOT, watch.rail(), loadedS(), true, "first");
                    watch.firstHot(BurnInDone.HotReading.of(point));
                }
            }
        }

        private List<Point> readAll(Section section, boolean mustKeep, String note) throws RunEndException {
            List<Point> points = new ArrayList<>();
            for (Rail rail : profile.rails()) {
                points.add(rows.full(section, rail, loadedS(), mustKeep, note));
            }
            return points;
        }

        private void rippled(Point point) throws RunEndException {
            OptionalDouble ripple = BurnInReadings.value(point.readings(), Quantity.RIPPLE_PP);
            for (BurnInWatch watch : watches) {
                if (watch.rail().name().equals(point.rail()) && ripple.isPresent()) {
                    watch.rippled(ripple.getAsDouble());
                }
            }
        }

        /** Line on without load, every rail looked at, then all loads on. */
        private void startUp() throws RunEndException {
            tell(BurnInProgress.Phase.STARTING);
            NoLoadCheck noLoad = new NoLoadCheck(bench, profile, readings);
            noLoad.powerUp();
            for (Rail rail : profile.rails()) {
                if (!noLoad.usable(rail)) {
                    throw new RunEndException(
                            RunOutcome.End.TRIPPED, rail.name() + " gives no usable output: it cannot be burnt in");
                }
            }
            loadOn();
            stretchDoneS = doneS;
            watches.forEach(BurnInWatch::restart);
        }

        private void loadOn() throws RunEndException {
            for (Rail rail : profile.rails()) {
                bench.load(
                        rail.name(),
                        LoadMode.CURRENT,
                        Math.max(rail.minimumLoadA(), plan.loadRatio() * rail.ratedCurrentA()));
            }
            for (Rail rail : profile.rails()) {
                bench.loadInput(rail.name(), true);
            }
            loaded = true;
            loadedSinceS = bench.elapsedS();
            for (Rail rail : profile.rails()) {
                readings.settle(rail);
            }
        }

        private void loadOff() throws RunEndException {
            for (Rail rail : profile.rails()) {
                bench.loadInput(rail.name(), false);
            }
            doneS = loadedS();
            loaded = false;
        }

        private void coldStart() throws RunEndException {
            loadOff();
            bench.lineOff();
            note("cold start " + coldStarts + " of " + plan.coldStarts() + ": line off");
            waitUnloaded(plan.coldOff(), BurnInProgress.Phase.OFF);
            startUp();
            readAll(Section.BURN_IN, false, "after cold start");
        }

        private void standStill() throws RunEndException {
            loadOff();
            bench.lineOff();
            // before it is said: whoever reads it and asks at once has to see it so
            tell(BurnInProgress.Phase.PAUSED);
            note("paused: load and line off");
            double fromS = bench.elapsedS();
            while (hold.held()) {
                tell(BurnInProgress.Phase.PAUSED);
                bench.pause(SLICE);
            }
            note(String.format(Locale.ROOT, "continued after a pause of %.0f s", bench.elapsedS() - fromS));
            startUp();
        }

        private void waitUnloaded(Duration time, BurnInProgress.Phase phase) throws RunEndException {
            double endS = bench.elapsedS() + time.toMillis() / 1e3;
            while (bench.elapsedS() < endS) {
                tell(phase, endS - bench.elapsedS());
                double restS = Math.max(0.001, endS - bench.elapsedS());
                bench.pause(Duration.ofNanos((long) (1e9 * Math.min(restS, 10))));
            }
        }

        private void note(String text) throws RunEndException {
            bench.note(RunEvent.Note.Level.INFO, text);
        }

        private void tell(BurnInProgress.Phase phase) {
            tell(phase, 0);
        }

        /** How it stands, with what is still to come of the phase itself if that is not time under load, s. */
        private void tell(BurnInProgress.Phase phase, double restS) {
            double startsS = (plan.coldStarts() - coldStarts) * (plan.coldOff().toMillis() / 1e3 + START_S);
            boolean cooling = phase == BurnInProgress.Phase.COOLING;
            double loadS = Math.max(Math.max(0, askedS - loadedS()), hotS - stretchLoadedS());
            double leftS = restS + (cooling ? 0 : loadS + startsS + plan.cool().toMillis() / 1e3);
            listener.accept(new BurnInProgress(
                    phase,
                    bench.elapsedS(),
                    loadedS(),
                    askedS,
                    leftS,
                    watches.stream().map(BurnInWatch::now).toList()));
        }
    }

    /** About how many rows one rail gives. */
    public static int expectedPoints(BurnInPlan plan) {
        return (int) (plan.time().dividedBy(plan.sampleEvery()) + plan.time().dividedBy(plan.readingEvery()))
                + 2 * plan.coldStarts()
                + 5;
    }
}

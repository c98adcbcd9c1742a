package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.run.ChannelAccuracy;
import railproof.signal.UncertaintyBudget.Entry;

/** Takes a value's uncertainty apart into the rows of its budget. */
final class BudgetRows {
    private static final double INFINITE = Double.POSITIVE_INFINITY;

    private final Measured value;
    private final List<Entry> entries = new ArrayList<>();
    private final List<Unit> units = new ArrayList<>();
    private double knownVariance;

    BudgetRows(Measured value) {
        this.value = value;
    }

    List<Entry> entries() {
        return List.copyOf(entries);
    }

    List<Unit> units() {
        return List.copyOf(units);
    }

    /** A mean (level) or something within one record, which the zero has no part in. */
    void voltage(ChannelAccuracy accuracy, boolean level, boolean ends) {
        gain(accuracy);
        double fitArm = level ? Math.abs(value.value()) - Math.abs(accuracy.fitPivotDimensionless()) : value.value();
        add(
                "calibration: slope of the fitted line",
                Unit.RATIO,
                Entry.normal("", accuracy.fitGainURatio(), INFINITE),
                fitArm);
        if (level) {
            add("calibration: offset", value.unit(), Entry.normal("", accuracy.offsetUDimensionless(), INFINITE), 1);
        } else {
            add("calibration: offset (none: one record)", value.unit(), Entry.normal("", 0, INFINITE), 1);
        }
        if (level) {
            varying("non-linearity", accuracy.nonLinearityUDimensionless(), 1);
        } else if (ends) {
            varying("non-linearity at the peak", accuracy.nonLinearityUDimensionless(), 1);
            varying("non-linearity in the trough", accuracy.nonLinearityUDimensionless(), 1);
            Entry resolution = Entry.resolution("", accuracy.stepDimensionless());
            if (known(resolution.contribution())) {
                add("resolution", value.unit(), resolution, 1);
            }
        }
        if (!ends) {
            add("resolution (within the scatter of the samples)", value.unit(), Entry.normal("", 0, INFINITE), 1);
        }
        scatter(
                level
                        ? "noise of the mean"
                        : ends
                                ? "scatter, noise taken off, between samples"
                                : "scatter, non-linearity, noise taken off",
                1);
        if (level) {
            leadDrop(accuracy);
        } else {
            add("lead drop (none: one record)", value.unit(), Entry.normal("", 0, INFINITE), 1);
        }
    }

    /** The resistance that the calibration's check left open, times the current, or times what is left of it. */
    private void leadDrop(ChannelAccuracy accuracy) {
        if (accuracy.leadUOhm() > 0) {
            add(
                    "lead drop: current times resistance",
                    Unit.OHM,
                    Entry.normal("", accuracy.leadUOhm(), INFINITE),
                    value.leadU() / accuracy.leadUOhm());
        } else {
            add("lead drop (not checked at calibration)", value.unit(), Entry.normal("", 0, INFINITE), 1);
        }
    }

    /**
     * What the window over whole cycles may have left in a mean. Both parts differ from record to record, so they are in
     * the scatter already and are taken out of it; if it has no room for them they are said to be within it.
     */
    void window(WindowLimits limits) {
        within("timing of the window", limits.timingV());
        within("sampling at the window's ends", limits.samplingV());
    }

    private void within(String source, double halfWidth) {
        Entry entry = Entry.rectangular("", halfWidth);
        if (known(entry.contribution())) {
            add(source, value.unit(), entry, 1);
        } else {
            add(source + " (in scatter)", value.unit(), Entry.rectangular("", 0), 1);
        }
    }

    /** Two readings on one channel: what they share subtracts, what varies counts in both. */
    void difference(ChannelAccuracy accuracy) {
        add(
                "calibration: what the difference leaves of it",
                value.unit(),
                Entry.normal("", value.sharedU(), INFINITE),
                1);
        if (value.unit() == Unit.VOLT) {
            varying("non-linearity, first reading", accuracy.nonLinearityUDimensionless(), 1);
            varying("non-linearity, second reading", accuracy.nonLinearityUDimensionless(), 1);
            scatter("noise of both means", 1);
        } else {
            scatter("non-linearity and noise of both readings", 1);
        }
        add("resolution (within the scatter of the samples)", value.unit(), Entry.normal("", 0, INFINITE), 1);
        leadDrop(accuracy);
    }

    /** The load's own reading. */
    void current(ChannelAccuracy accuracy, boolean onset) {
        gain(accuracy);
        add("calibration: offset", value.unit(), Entry.normal("", accuracy.offsetUDimensionless(), INFINITE), 1);
        Entry resolution = Entry.resolution("", accuracy.stepDimensionless());
        if (resolution.contribution() <= value.randomU()) {
            knownVariance += resolution.contribution() * resolution.contribution();
            add("resolution", value.unit(), resolution, 1);
        }
        if (onset) {
            double left = Math.sqrt(Math.max(0, value.randomU() * value.randomU() - knownVariance));
            add(
                    "between the last level held and the first not",
                    value.unit(),
                    Entry.rectangular("", Math.sqrt(3) * left),
                    1);
        } else {
            scatter("noise", 1);
        }
    }

    private void gain(ChannelAccuracy accuracy) {
        String source = accuracy.calibration().isPresent() ? "calibration: gain of the reference" : "gain, data sheet";
        add(source, Unit.RATIO, Entry.normal("", accuracy.gainURatio(), INFINITE), value.value());
        String drift = accuracy.driftURatio() > 0 ? "drift since calibration" : "drift since calibration (none stated)";
        add(drift, Unit.RATIO, Entry.normal("", accuracy.driftURatio(), INFINITE), value.value());
    }

    /** Counts a contribution as known, if the varying part has room for it. */
    private boolean known(double contribution) {
        double variance = knownVariance + contribution * contribution;
        boolean room = variance <= value.randomU() * value.randomU() * (1 + 1e-9);
        knownVariance = room ? variance : knownVariance;
        return room;
    }

    private void varying(String source, double u, double sensitivity) {
        if (known(u * sensitivity)) {
            add(source, value.unit(), Entry.normal("", u, INFINITE), sensitivity);
        }
    }

    /** What is left of the varying part; its degrees of freedom are those that give the value's as a whole. */
    private void scatter(String source, double sensitivity) {
        double total = value.randomU() * value.randomU();
        double left = Math.sqrt(Math.max(0, total - knownVariance));
        double share = total > 0 ? left * left / total : 1;
        double dof = Math.max(1, value.randomDof() * share * share);
        add(source, value.unit(), Entry.normal("", left, Double.isNaN(dof) ? INFINITE : dof), sensitivity);
    }

    private void add(String source, Unit unit, Entry entry, double sensitivity) {
        entries.add(new Entry(source, entry.halfWidthDimensionless(), entry.distribution(), sensitivity, entry.dof()));
        units.add(unit);
    }
}

package railproof.cli;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.function.BiConsumer;
import railproof.app.BurnInControl;
import railproof.base.Unit;
import railproof.procedure.BurnInProgress;
import railproof.report.Quantities;
import railproof.run.RunEvent;

/**
 * Shows burn-ins as they go: notes at once, a status line per unit now and then by the run's own time. Whole lines, no
 * cursor movements, so that any terminal and any file can take them.
 *
 * <p>Thread: the record writers'.
 */
final class BurnInLines implements BiConsumer<String, RunEvent> {
    private static final double ON_TERMINAL_S = 60;
    private static final double ELSEWHERE_S = 600;
    private static final double SECONDS_PER_HOUR = 3600;

    private final Screen screen;
    private final BurnInControl control;
    private final double everyS;
    private final Map<String, Double> lastS = new HashMap<>();

    BurnInLines(Screen screen, BurnInControl control, boolean terminal) {
        this.screen = screen;
        this.control = control;
        this.everyS = terminal ? ON_TERMINAL_S : ELSEWHERE_S;
    }

    @Override
    public synchronized void accept(String unit, RunEvent event) {
        if (event instanceof RunEvent.Note note) {
            String mark = note.level() == RunEvent.Note.Level.WARNING ? "! " : "";
            screen.say(unit + "  " + mark + note.text());
        } else if (event instanceof RunEvent.RunEnded ended) {
            screen.say(unit + "  " + ended.outcome().end().name().toLowerCase(Locale.ROOT) + " after "
                    + hours(ended.elapsedS()) + "; load and line off: "
                    + ended.outcome().safeState().name().toLowerCase(Locale.ROOT));
        } else if (event instanceof RunEvent.PointTaken) {
            double last = Objects.requireNonNull(lastS.getOrDefault(unit, Double.NEGATIVE_INFINITY));
            control.progress(unit)
                    .filter(now -> now.elapsedS() - last >= everyS)
                    .ifPresent(now -> {
                        lastS.put(unit, now.elapsedS());
                        screen.say(line(unit, now));
                    });
        }
    }

    static String line(String unit, BurnInProgress now) {
        StringBuilder line = new StringBuilder(unit + "  " + now.phase().words() + ", " + hours(now.loadedS()) + " of "
                + hours(now.askedS()) + ", about " + hours(now.leftS()) + " left");
        for (BurnInProgress.RailNow rail : now.rails()) {
            line.append("  |  ").append(rail.name()).append(": ");
            line.append(value(rail.outputV(), Unit.VOLT));
            if (rail.ripplePpV().isPresent()) {
                line.append(", ripple ")
                        .append(value(rail.ripplePpV(), Unit.VOLT))
                        .append(" p-p");
            }
            if (rail.heatSinkC().isPresent()) {
                line.append(", heat sink ")
                        .append(String.format(
                                Locale.ROOT, "%.1f °C", rail.heatSinkC().getAsDouble()));
            }
            line.append(", ").append(rail.trend());
        }
        return line.toString();
    }

    private static String value(OptionalDouble value, Unit unit) {
        return value.isPresent()
                ? Quantities.plain(Double.parseDouble(String.format(Locale.ROOT, "%.4g", value.getAsDouble())), unit)
                : "-";
    }

    private static String hours(double seconds) {
        long minutes = Math.round(seconds / 60);
        return seconds < SECONDS_PER_HOUR / 60
                ? Math.round(seconds) + " s"
                : String.format(Locale.ROOT, "%d h %02d min", minutes / 60, minutes % 60);
    }
}

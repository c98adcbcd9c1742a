package railproof.cli;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.BiConsumer;
import org.jspecify.annotations.Nullable;
import railproof.app.BurnInControl;
import railproof.procedure.BurnInProgress;
import railproof.report.RunWords;
import railproof.run.RunEvent;

/**
 * Shows burn-ins as they go: notes at once, a status line per unit when it does something
 * else and now and then by the run's own time. Whole lines, no
 * cursor movements, so that any terminal and any file can take them.
 *
 * <p>Thread: the record writers'.
 */
final class BurnInLines implements BiConsumer<String, RunEvent> {
    private static final double ON_TERMINAL_S = 60;
    private static final double ELSEWHERE_S = 600;

    private final Screen screen;
    private final BurnInControl control;
    private final double everyS;
    private final Map<String, BurnInProgress> shown = new HashMap<>();

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
                    + RunWords.hours(ended.elapsedS()) + "; load and line off: "
                    + ended.outcome().safeState().name().toLowerCase(Locale.ROOT));
        } else if (event instanceof RunEvent.PointTaken) {
            control.progress(unit).filter(now -> due(shown.get(unit), now)).ifPresent(now -> {
                shown.put(unit, now);
                screen.say(lines(unit, now));
            });
        }
    }

    private boolean due(@Nullable BurnInProgress last, BurnInProgress now) {
        return last == null || last.phase() != now.phase() || now.elapsedS() - last.elapsedS() >= everyS;
    }

    /** How a unit stands, a line for itself and, under load, one for each rail. */
    static String lines(String unit, BurnInProgress now) {
        StringBuilder text = new StringBuilder(unit + "  " + now.phase().words() + ", " + RunWords.hours(now.loadedS())
                + " of " + RunWords.hours(now.askedS()) + ", about " + RunWords.hours(now.leftS()) + " left");
        if (now.phase() != BurnInProgress.Phase.LOADED) {
            return text.toString();
        }
        int width = now.rails().stream()
                .mapToInt(rail -> rail.name().length())
                .max()
                .orElse(0);
        for (BurnInProgress.RailNow rail : now.rails()) {
            text.append(String.format(Locale.ROOT, "%n    %-" + width + "s", rail.name()))
                    .append(shown("  %8.3f V", rail.outputV(), 1))
                    .append(shown("  ripple %6.1f mV p-p", rail.ripplePpV(), 1000))
                    .append(shown("  heat sink %5.1f °C", rail.heatSinkC(), 1))
                    .append("  ")
                    .append(rail.trend());
        }
        return text.toString();
    }

    private static String shown(String format, OptionalDouble value, double scale) {
        return value.isPresent() ? String.format(Locale.ROOT, format, scale * value.getAsDouble()) : "";
    }
}

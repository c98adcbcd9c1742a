package railproof.cli;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;
import java.util.function.Consumer;
import railproof.base.Reading;
import railproof.procedure.Qualification;
import railproof.profile.Profile;
import railproof.report.Quantities;
import railproof.report.RunWords;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;

/** Shows a run as it goes, one line per point, with the time left. Thread: the record writer's. */
final class ProgressLines implements Consumer<RunEvent> {
    private final Screen screen;
    private final int planned;
    private int done;

    ProgressLines(Screen screen, Profile profile) {
        this.screen = screen;
        this.planned = Qualification.expectedPoints(profile);
    }

    @Override
    public void accept(RunEvent event) {
        if (event instanceof RunEvent.SectionStarted section) {
            screen.say(section.rail() + "  " + RunWords.section(section.section()));
        } else if (event instanceof RunEvent.PointTaken taken) {
            done++;
            screen.say(line(taken.point()));
        } else if (event instanceof RunEvent.Note note) {
            screen.say("    " + (note.level() == RunEvent.Note.Level.WARNING ? "! " : "") + note.text());
        } else if (event instanceof RunEvent.RunEnded ended) {
            screen.say(String.format(
                    Locale.ROOT,
                    "Run %s after %s; load and line off: %s",
                    ended.outcome().end().name().toLowerCase(Locale.ROOT),
                    RunWords.duration(ended.elapsedS()),
                    ended.outcome().safeState().name().toLowerCase(Locale.ROOT)));
            screen.say("");
        }
    }

    private String line(Point point) {
        StringBuilder line = new StringBuilder("    ");
        line.append(padded(value(point.reading(Quantity.LOAD_CURRENT)), 12));
        line.append(padded(value(point.reading(Quantity.OUTPUT)), 13));
        Reading ripple = point.reading(Quantity.RIPPLE_PP);
        line.append(ripple.measured().isPresent() ? padded(value(ripple), 12) + " ripple p-p" : "");
        if (!point.note().isEmpty()) {
            line.append("   ").append(point.note());
        } else if (!point.settled() && point.section() != Section.CURRENT_LIMIT) {
            line.append("   not settled");
        }
        return padEnd(line.toString(), 68) + timeLeft(point.elapsedS());
    }

    private String timeLeft(double elapsedS) {
        if (done < 2 || planned <= done) {
            return "";
        }
        double leftS = elapsedS / done * (planned - done);
        return String.format(Locale.ROOT, "%3d %%  about %s left", 100 * done / planned, RunWords.duration(leftS));
    }

    private static String value(Reading reading) {
        return reading.measured()
                .map(m -> Quantities.plain(fiveDigits(m.value()), m.unit()))
                .orElse("-");
    }

    /** Progress is to be glanced at; the digits that count are in the record. */
    private static double fiveDigits(double value) {
        return new BigDecimal(value).round(new MathContext(5)).doubleValue();
    }

    private static String padded(String text, int width) {
        return " ".repeat(Math.max(0, width - text.length())) + text;
    }

    private static String padEnd(String text, int width) {
        return text + " ".repeat(Math.max(1, width - text.length()));
    }
}

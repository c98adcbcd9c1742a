package railproof.cli;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.EnumSet;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
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

/**
 * Shows a run as it goes, one line per point, with the time left; with the rail's name where there are several. Thread:
 * the record writer's.
 */
final class ProgressLines implements Consumer<RunEvent> {
    /** These go from rail to rail. */
    private static final Set<Section> OF_ALL_RAILS = EnumSet.of(Section.FIRST_POWER_UP, Section.CROSS_REGULATION);

    private static final Set<Section> OVER_LINE =
            EnumSet.of(Section.FIRST_POWER_UP, Section.LINE_SWEEP, Section.DROPOUT_LINE);

    private final Screen screen;
    private final int planned;
    /** Width of the longest rail name; 0 with one rail. */
    private final int nameWidth;

    private Optional<Section> shown = Optional.empty();
    private int done;

    ProgressLines(Screen screen, Profile profile) {
        this.screen = screen;
        this.planned = Qualification.expectedPoints(profile);
        this.nameWidth = profile.rails().size() < 2
                ? 0
                : profile.rails().stream()
                        .mapToInt(rail -> rail.name().length())
                        .max()
                        .orElse(0);
    }

    @Override
    public void accept(RunEvent event) {
        if (event instanceof RunEvent.SectionStarted section) {
            heading(section);
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

    private void heading(RunEvent.SectionStarted section) {
        boolean ofAll = nameWidth > 0 && OF_ALL_RAILS.contains(section.section());
        if (!ofAll) {
            screen.say(section.rail() + "  " + RunWords.section(section.section()));
        } else if (shown.filter(section.section()::equals).isEmpty()) {
            screen.say("all rails  " + RunWords.section(section.section()));
        }
        shown = Optional.of(section.section());
    }

    private String line(Point point) {
        StringBuilder line = new StringBuilder("    ");
        if (nameWidth > 0) {
            line.append(padEnd(point.rail(), nameWidth + 1));
        }
        line.append(padded(value(point.reading(Quantity.LOAD_CURRENT)), 12));
        line.append(padded(value(point.reading(Quantity.OUTPUT)), 13));
        Reading ripple = point.reading(Quantity.RIPPLE_PP);
        Reading time = point.reading(Quantity.TRANSIENT_TIME);
        if (ripple.measured().isPresent()) {
            line.append(padded(value(ripple), 12)).append(" ripple p-p");
        } else if (time.measured().isPresent()) {
            line.append(padded(value(time), 12)).append(timeWords(point.section()));
        }
        if (OVER_LINE.contains(point.section())) {
            line.append("   line ").append(value(point.reading(Quantity.LINE)));
        }
        if (!point.note().isEmpty()) {
            line.append("   ").append(point.note());
        } else if (!point.settled() && point.section() != Section.CURRENT_LIMIT) {
            line.append("   not settled");
        }
        return padEnd(line.toString(), 68) + timeLeft(point.elapsedS());
    }

    private static String timeWords(Section section) {
        return switch (section) {
            case HOLD_UP -> " held";
            case START_UP -> " to come up";
            default -> " to come back";
        };
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

package railproof.report;

import java.util.Locale;
import railproof.run.Section;

/** How a run is spoken of while it goes on; shared by all faces. */
public final class RunWords {
    private RunWords() {}

    /** What a section does, for a heading. */
    public static String section(Section section) {
        return switch (section) {
            case FIRST_POWER_UP -> "first power-up, line in steps";
            case NO_LOAD -> "no load";
            case LOAD_SWEEP -> "load sweep at nominal line";
            case LINE_SWEEP -> "line sweep";
            case DROPOUT_LINE -> "line at which regulation is lost";
            case LOAD_STEP -> "load step";
            case HOLD_UP -> "hold-up, line off at full load";
            case START_UP -> "start-up into load";
            case CURRENT_LIMIT -> "current limit";
            case RECOVERY -> "recovery";
            case CROSS_REGULATION -> "cross-regulation";
            case DISCHARGE -> "stored charge";
            case BURN_IN -> "burn-in";
            case BURN_IN_HOT -> "burn-in, first and last hot";
            case BURN_IN_COOLED -> "after cooling";
        };
    }

    /** A duration to be glanced at: {@code 12 s}, {@code 3 min 05 s}, {@code 5 h 20 min}. */
    public static String duration(double seconds) {
        long whole = Math.round(seconds);
        if (whole >= 3600) {
            return String.format(Locale.ROOT, "%d h %02d min", whole / 3600, whole / 60 % 60);
        }
        return whole < 60 ? whole + " s" : String.format(Locale.ROOT, "%d min %02d s", whole / 60, whole % 60);
    }

    /** A long duration: {@code 45 s}, {@code 3 h 05 min}. */
    public static String hours(double seconds) {
        long minutes = Math.round(seconds / 60);
        return seconds < 60
                ? Math.round(seconds) + " s"
                : String.format(Locale.ROOT, "%d h %02d min", minutes / 60, minutes % 60);
    }
}

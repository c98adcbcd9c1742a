package railproof.run;

import java.util.Arrays;
import java.util.Optional;

/** The part of a run that a point, waveform or finding belongs to; one per procedure. */
public enum Section {
    /** The line brought up in steps, without load. */
    FIRST_POWER_UP("first-power-up"),
    /** Output without load, before anything else. */
    NO_LOAD("no-load"),
    /** Load current swept at nominal line. */
    LOAD_SWEEP("load-sweep"),
    /** Line voltage swept at full load. */
    LINE_SWEEP("line-sweep"),
    /** Search for the line voltage at which regulation is lost. */
    DROPOUT_LINE("dropout-line"),
    /** Load switched between two levels. */
    LOAD_STEP("load-step"),
    /** Line off at full load. */
    HOLD_UP("hold-up"),
    /** Line on with the load already there. */
    START_UP("start-up"),
    /** Search for the current limit and what lies beyond. */
    CURRENT_LIMIT("current-limit"),
    /** Back to normal after the limit. */
    RECOVERY("recovery"),
    /** What loading one rail does to another. */
    CROSS_REGULATION("cross-regulation"),
    /** Stored charge watched after everything is off. */
    DISCHARGE("discharge"),
    /** All rails loaded for hours. */
    BURN_IN("burn-in"),
    /** First and last reading of a burn-in with the unit hot. */
    BURN_IN_HOT("burn-in-hot"),
    /** Reading after a burn-in with the unit cooled down. */
    BURN_IN_COOLED("burn-in-cooled");

    private final String label;

    Section(String label) {
        this.label = label;
    }

    /** As written in files. */
    public String label() {
        return label;
    }

    /** The section of that label. */
    public static Optional<Section> ofLabel(String label) {
        return Arrays.stream(values())
                .filter(section -> section.label.equals(label))
                .findFirst();
    }
}

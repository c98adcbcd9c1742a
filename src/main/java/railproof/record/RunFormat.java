package railproof.record;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Collectors;

/** How the files of a run folder are laid out, by the number in {@code run.json}. Only the newest is written. */
enum RunFormat {
    /** The first: nothing is known of a drop in the leads, and it counts as none. */
    FIRST(1, false),
    /** The uncertainty of the drop in the leads stands beside each output and each channel. */
    WITH_LEAD_DROPS(2, true),
    /** Points have the phase of the line at which something was done. */
    WITH_LINE_PHASES(3, true);

    /** What is written. */
    static final RunFormat CURRENT = WITH_LINE_PHASES;

    private final int version;
    private final boolean leadDrops;

    RunFormat(int version, boolean leadDrops) {
        this.version = version;
        this.leadDrops = leadDrops;
    }

    int version() {
        return version;
    }

    /** Whether the uncertainty of the drop in the leads must be there. */
    boolean holdsLeadDrops() {
        return leadDrops;
    }

    static Optional<RunFormat> ofVersion(int version) {
        return Arrays.stream(values())
                .filter(format -> format.version == version)
                .findFirst();
    }

    /** All that can be read, in words. */
    static String versions() {
        return Arrays.stream(values())
                .map(format -> Integer.toString(format.version))
                .collect(Collectors.joining(", "))
                .replaceFirst(", (\\d+)$", " and $1");
    }
}

package railproof.procedure;

import java.time.Duration;
import org.jspecify.annotations.Nullable;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.rig.Bench;
import railproof.rig.RunEndException;

/**
 * Spreads what is done to the line over its phases. Nothing on the bench can be timed by the line itself; but its phase
 * at the last deed is known from that capture, and from there it runs on at the line's frequency. A line that is not
 * quite at its nominal frequency and a slow wire only make the spread less even: which phase it was is read from every
 * capture.
 */
final class LinePhasing {
    private final Bench bench;
    private final double lineHz;
    private final double strideCyclesDimensionless;
    private double doneAtS;
    private double seenCyclesDimensionless = Double.NaN;
    private double wantedCyclesDimensionless;

    /**
     * For so many deeds: spread evenly over a half cycle, which is what a full-wave rectifier knows, and by turns in one
     * half and the other.
     */
    LinePhasing(Bench bench, double lineHz, int deeds) {
        this.bench = bench;
        this.strideCyclesDimensionless = 0.5 + 0.5 / deeds;
        this.lineHz = lineHz;
    }

    /** How long {@link #await} takes at most, s. */
    double longestWaitS() {
        return 1 / lineHz;
    }

    /** Waits for the next phase; at once as long as none is known. */
    void await() throws RunEndException {
        if (!Double.isNaN(seenCyclesDimensionless)) {
            wantedCyclesDimensionless += strideCyclesDimensionless;
            double waitCycles =
                    wantedCyclesDimensionless - seenCyclesDimensionless - (bench.elapsedS() - doneAtS) * lineHz;
            bench.pause(Duration.ofNanos(Math.round(1e9 * (waitCycles - Math.floor(waitCycles)) / lineHz)));
        }
        doneAtS = bench.elapsedS();
    }

    /** The phase at which the last deed was done, if it could be read. */
    void saw(@Nullable Reading phase) {
        if (phase instanceof Measured measured) {
            wantedCyclesDimensionless =
                    Double.isNaN(seenCyclesDimensionless) ? measured.value() : wantedCyclesDimensionless;
            seenCyclesDimensionless = measured.value();
        } else {
            seenCyclesDimensionless = Double.NaN;
        }
    }
}

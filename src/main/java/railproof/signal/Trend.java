package railproof.signal;

import java.util.Arrays;
import java.util.Optional;

/**
 * A reading over hours in bounded memory: means of equally many readings, joined in pairs whenever the room is full, so
 * that the whole record stays equally weighted however long it gets.
 *
 * <p>Thread: confined.
 */
public final class Trend {
    private static final int ROOM = 128;
    /** Fewer means than this carry no line. */
    private static final int LEAST = 8;

    private final double[] timesS = new double[ROOM];
    private final double[] values = new double[ROOM];
    private int means;
    private int perMean = 1;
    private int pending;
    private double pendingS;
    private double pendingSum;

    /** Forgets everything: what was before a break tells nothing of what follows. */
    public void restart() {
        means = 0;
        perMean = 1;
        pending = 0;
        pendingS = 0;
        pendingSum = 0;
    }

    /**
     * Adds a reading; readings are taken to be equally spaced.
     *
     * @param timeS when, s, ascending
     */
    public void add(double timeS, double value) {
        pending++;
        pendingS += timeS;
        pendingSum += value;
        if (pending < perMean) {
            return;
        }
        if (means == ROOM) {
            join();
        }
        if (pending == perMean) {
            timesS[means] = pendingS / pending;
            values[means] = pendingSum / pending;
            means++;
            pending = 0;
            pendingS = 0;
            pendingSum = 0;
        }
    }

    private void join() {
        for (int i = 0; i < ROOM / 2; i++) {
            timesS[i] = (timesS[2 * i] + timesS[2 * i + 1]) / 2;
            values[i] = (values[2 * i] + values[2 * i + 1]) / 2;
        }
        means = ROOM / 2;
        perMean *= 2;
    }

    /** Means kept. */
    public int size() {
        return means;
    }

    /** Time from the first mean to the last, s. */
    public double spanS() {
        return means < 2 ? 0 : timesS[means - 1] - timesS[0];
    }

    /** Mean of the last few readings, less noisy than the last one. */
    public Optional<Double> recent() {
        if (means == 0) {
            return Optional.empty();
        }
        int from = Math.max(0, means - 4);
        return Optional.of(Arrays.stream(values, from, means).average().orElseThrow());
    }

    /** The straight line through it, per s; empty if there is too little. */
    public Optional<Drift> drift() {
        return means < LEAST
                ? Optional.empty()
                : Optional.of(Drift.of(Arrays.copyOf(timesS, means), Arrays.copyOf(values, means)));
    }
}

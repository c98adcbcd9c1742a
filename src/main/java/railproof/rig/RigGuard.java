package railproof.rig;

import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import railproof.base.Clock;

/**
 * Signs of life of the control thread, and whether it may be stopped just now.
 *
 * <p>Thread: any.
 */
public final class RigGuard {
    private final Clock clock;
    private final Map<String, Long> waitedNs = new ConcurrentHashMap<>();
    private final AtomicLong lastPulseNs = new AtomicLong();
    private final AtomicBoolean obeysStop = new AtomicBoolean(true);
    private final AtomicBoolean energised = new AtomicBoolean();

    /**
     * A guard with nothing energised.
     *
     * @param clock the rig's clock
     */
    public RigGuard(Clock clock) {
        this.clock = clock;
        pulse();
    }

    /** The control thread is alive. */
    void pulse() {
        lastPulseNs.set(clock.nowNs());
    }

    /** How long the control thread has given no sign of life, ns. */
    long silenceNs() {
        return clock.nowNs() - lastPulseNs.get();
    }

    /** The control thread waited for an instrument's answer. */
    void waited(String link, long durationNs) {
        waitedNs.merge(link, durationNs, Long::sum);
    }

    /** The board was spoken to: waits before that no longer explain its silence. */
    void heard() {
        waitedNs.clear();
    }

    /** The link most time was waited for since the board was last spoken to; empty if none. */
    Optional<String> longestWait() {
        return waitedNs.entrySet().stream().max(Map.Entry.comparingByValue()).map(Map.Entry::getKey);
    }

    /** From now on no stop request interrupts an exchange: the rig is being made safe. */
    void makingSafe() {
        obeysStop.set(false);
    }

    boolean obeysStop() {
        return obeysStop.get();
    }

    /** Says whether a load input or the line may be on. */
    void energised(boolean on) {
        energised.set(on);
    }

    boolean isEnergised() {
        return energised.get();
    }
}

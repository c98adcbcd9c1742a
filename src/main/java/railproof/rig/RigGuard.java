package railproof.rig;

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

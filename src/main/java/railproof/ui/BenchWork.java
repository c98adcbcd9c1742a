package railproof.ui;

import railproof.app.ExitStatus;

/**
 * What has instruments in its hands: a run, burn-ins, a look over the rig, a calibration. The window has one at a time.
 *
 * <p>Thread: any.
 */
interface BenchWork {
    /** What it is, for a sentence: {@code the test of unit LC-2107}. */
    String words();

    /** Ends it as soon as possible; loads go off first. */
    void stop(String how);

    /** Whether it has ended and let go of the instruments. */
    boolean over();

    /** How loads and line stand. */
    Power power();

    /** What it wants of the operator now; empty if nothing. */
    String wants();

    /** Whether its bench is a simulated one. */
    boolean simulated();

    /** What it came to; of meaning once it is over. */
    ExitStatus status();
}

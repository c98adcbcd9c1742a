package railproof.sim.supply;

/**
 * The last states of one rail, newest first, with the quantities that are carried along (heat sink). One step can be
 * taken back.
 */
final class RailHistory {
    /** Four past states and the candidate, in a ring whose size is a power of two. */
    private static final int DEPTH = 8;

    private final double[][] pastV = new double[DEPTH][];
    private int newest;
    double sinkC;
    private double sinkBeforeC;

    RailHistory(int size, double sinkC) {
        for (int i = 0; i < DEPTH; i++) {
            pastV[i] = new double[size];
        }
        this.sinkC = sinkC;
        sinkBeforeC = sinkC;
    }

    /** State {@code age} steps ago; 0 is the newest accepted one. */
    double[] at(int age) {
        return pastV[(newest + age) & (DEPTH - 1)];
    }

    /** Room for the next state; becomes the newest by {@link #accept}. */
    double[] candidate() {
        return pastV[(newest - 1) & (DEPTH - 1)];
    }

    void accept() {
        newest = (newest - 1) & (DEPTH - 1);
        sinkBeforeC = sinkC;
    }

    /** The heat sink is as warm as told, whatever was carried along. */
    void sink(double nowC) {
        sinkC = nowC;
        sinkBeforeC = nowC;
    }

    /** Forgets the newest state. */
    void takeBack() {
        newest = (newest + 1) & (DEPTH - 1);
        sinkC = sinkBeforeC;
    }
}

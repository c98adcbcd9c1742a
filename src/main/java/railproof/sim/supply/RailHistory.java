package railproof.sim.supply;

/**
 * The last states of one rail, newest first, with the quantities that are carried along (heat sink). One step can be
 * taken back.
 */
final class RailHistory {
    private static final int DEPTH = 5;

    private final double[][] pastV = new double[DEPTH][];
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
        return pastV[age];
    }

    /** Room for the next state; becomes the newest by {@link #accept}. */
    double[] candidate() {
        return pastV[DEPTH - 1];
    }

    void accept() {
        double[] newest = pastV[DEPTH - 1];
        System.arraycopy(pastV, 0, pastV, 1, DEPTH - 1);
        pastV[0] = newest;
        sinkBeforeC = sinkC;
    }

    /** Forgets the newest state. */
    void takeBack() {
        double[] newest = pastV[0];
        System.arraycopy(pastV, 1, pastV, 0, DEPTH - 1);
        pastV[DEPTH - 1] = newest;
        sinkC = sinkBeforeC;
    }
}

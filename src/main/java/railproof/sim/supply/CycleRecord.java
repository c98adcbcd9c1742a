package railproof.sim.supply;

import railproof.sim.Node;

/** One line cycle of all rails, sampled so finely that a straight line between two samples will do. */
final class CycleRecord {
    /** 40 µs at 50 Hz, twice the time constant of the steepest thing that repeats with the line. */
    static final int SAMPLES = 500;

    private static final int[] STATES = {
        RailNetwork.RAW, RailNetwork.BASE, RailNetwork.OUT, RailNetwork.REFERENCE, RailNetwork.TAP
    };

    private final double[][][] statesV;
    private final double[] sumW;
    private final double cycleS;
    private int next;

    CycleRecord(int rails, double cycleS) {
        this.cycleS = cycleS;
        statesV = new double[rails][STATES.length][SAMPLES + 1];
        sumW = new double[rails];
    }

    double cycleS() {
        return cycleS;
    }

    /** Number of the sample that comes next. */
    int next() {
        return next;
    }

    /** Takes the plant's state as the next sample; says whether the cycle is whole. */
    boolean take(UnitPlant plant) {
        for (int rail = 0; rail < statesV.length; rail++) {
            for (int i = 0; i < STATES.length; i++) {
                statesV[rail][i][next] = plant.stateV(rail, STATES[i]);
            }
            if (next > 0) {
                sumW[rail] += plant.passW(rail);
            }
        }
        next++;
        return next > SAMPLES;
    }

    double meanW(int rail) {
        return sumW[rail] / SAMPLES;
    }

    double meanRawV(int rail) {
        double sum = 0;
        for (int i = 0; i < SAMPLES; i++) {
            sum += statesV[rail][0][i];
        }
        return sum / SAMPLES;
    }

    /** Magnitude at a place of the cycle, 0 to 1, V. */
    double valueV(int rail, Node node, double placeRatio) {
        double[] samples = statesV[rail][state(node)];
        double place = placeRatio * SAMPLES;
        int before = Math.min(SAMPLES - 1, (int) place);
        double share = place - before;
        return samples[before] + share * (samples[before + 1] - samples[before]);
    }

    private static int state(Node node) {
        return switch (node) {
            case RAW -> 0;
            case BASE -> 1;
            case OUTPUT -> 2;
            case REFERENCE -> 3;
            case SENSE_TAP -> 4;
            case LINE -> throw new IllegalArgumentException("the line is known without a record");
        };
    }
}

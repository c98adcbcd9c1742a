package railproof.app;

import java.util.Arrays;
import railproof.sim.supply.Ngspice;

/** A vector of the reference averaged over the line cycle up to each instant, evenly spaced. */
@SuppressWarnings("ArrayRecordComponent") // a pair of vectors that nobody compares
record Means(double[] instantsS, double[] valuesV) {
    private static final double CYCLE_S = 1 / 60.0;

    static Means of(Ngspice reference, int vector) {
        double[] atS = reference.instantsS();
        double[] v = reference.wave(vector);
        int cycle = (int) Math.round(CYCLE_S / ((atS[atS.length - 1] - atS[0]) / (atS.length - 1)));
        double[] means = new double[v.length - cycle];
        double sum = 0;
        for (int i = 0; i < v.length; i++) {
            sum += v[i] - (i >= cycle ? v[i - cycle] : 0);
            if (i >= cycle) {
                means[i - cycle] = sum / cycle;
            }
        }
        return new Means(Arrays.copyOfRange(atS, cycle, atS.length), means);
    }

    double at(double timeS) {
        int i = Arrays.binarySearch(instantsS, timeS);
        return valuesV[Math.min(valuesV.length - 1, i < 0 ? -i - 1 : i)];
    }

    /** Middle of the first cycle after an instant whose mean lies below a level, s. */
    double fallsBelowS(double levelV, double fromS) {
        for (int i = 0; i < valuesV.length; i++) {
            if (instantsS[i] > fromS && valuesV[i] < levelV) {
                return instantsS[i] - CYCLE_S / 2;
            }
        }
        throw new AssertionError("the reference never falls below " + levelV + " V");
    }
}

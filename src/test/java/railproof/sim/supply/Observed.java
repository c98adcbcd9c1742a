package railproof.sim.supply;

import java.util.Arrays;
import railproof.sim.Node;
import railproof.sim.Plant;

/** What a node does over a span of simulated time: mean, peak-to-peak, harmonics of the line. */
final class Observed {
    private final double[] samplesV;
    private final double meanV;

    private Observed(double[] samplesV) {
        this.samplesV = samplesV;
        meanV = Arrays.stream(samplesV).average().orElseThrow();
    }

    /** Watches a node at even spacing; the span should be a whole number of line cycles. */
    static Observed of(Plant plant, int rail, Node node, double spanS, int count) {
        double fromS = plant.timeS();
        double[] samplesV = new double[count];
        for (int i = 0; i < count; i++) {
            plant.advanceTo(fromS + spanS * (i + 1) / count);
            samplesV[i] = plant.voltageV(rail, node);
        }
        return new Observed(samplesV);
    }

    /** Watches several nodes of one rail at the same instants. */
    static Observed[] of(Plant plant, int rail, Node[] nodes, double spanS, int count) {
        double fromS = plant.timeS();
        double[][] samplesV = new double[nodes.length][count];
        for (int i = 0; i < count; i++) {
            plant.advanceTo(fromS + spanS * (i + 1) / count);
            for (int k = 0; k < nodes.length; k++) {
                samplesV[k][i] = plant.voltageV(rail, nodes[k]);
            }
        }
        return Arrays.stream(samplesV).map(Observed::new).toArray(Observed[]::new);
    }

    double meanV() {
        return meanV;
    }

    double rippleV() {
        return Arrays.stream(samplesV).max().orElseThrow()
                - Arrays.stream(samplesV).min().orElseThrow();
    }

    double acRmsV() {
        return Math.sqrt(Arrays.stream(samplesV)
                .map(v -> (v - meanV) * (v - meanV))
                .average()
                .orElseThrow());
    }

    /** Amplitude of the component with {@code cycles} periods in the span, V. */
    double amplitudeV(int cycles) {
        double real = 0;
        double imaginary = 0;
        for (int i = 0; i < samplesV.length; i++) {
            double angle = 2 * Math.PI * cycles * i / samplesV.length;
            real += (samplesV[i] - meanV) * Math.cos(angle);
            imaginary += (samplesV[i] - meanV) * Math.sin(angle);
        }
        return 2 * Math.hypot(real, imaginary) / samplesV.length;
    }
}

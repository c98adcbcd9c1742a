package railproof.app;

import railproof.run.Point;
import railproof.run.Waveform;
import railproof.signal.StepOnset;

/** At which phase of the line something happened, by the line trace of the record itself. */
final class LinePhase {
    private static final double LINE_HZ = 60;

    private LinePhase() {}

    static Waveform waveform(SimulatedRun.Done done, Point point) {
        int id = point.waveform().orElseThrow();
        return done.result().run().waveforms().stream()
                .filter(one -> one.id() == id)
                .findFirst()
                .orElseThrow();
    }

    static double[] trace(Waveform waveform, String column) {
        return waveform.traces().stream()
                .filter(trace -> trace.column().equals(column))
                .findFirst()
                .orElseThrow()
                .samples();
    }

    /** Phase of the line at which the output began to answer a change of the load, cycles. */
    static double linePhaseAtTheAnswer(SimulatedRun.Done done, Point point) {
        Waveform waveform = waveform(done, point);
        int quiet = (int) (1.9 / LINE_HZ * waveform.rateHz());
        int onset = StepOnset.index(trace(waveform, "output_V"), quiet).orElseThrow();
        return linePhase(waveform, onset, true);
    }

    /** Phase of the line at a sample, cycles, from the rising zero before it or, where the line comes on, after it. */
    static double linePhase(Waveform waveform, int index, boolean before) {
        double[] lineV = trace(waveform, "line_V");
        // not at the edge itself: there the noise of no line changes into the line and looks like a zero of it
        for (int i = index + (before ? -1 : 1); i > 0 && i < lineV.length; i += before ? -1 : 1) {
            if (lineV[i - 1] < 0 && lineV[i] >= 0) {
                double zero = i - lineV[i] / (lineV[i] - lineV[i - 1]);
                double cycles = (index - zero) / waveform.rateHz() * LINE_HZ;
                return cycles - Math.floor(cycles);
            }
        }
        throw new AssertionError("the line has no rising zero there");
    }
}

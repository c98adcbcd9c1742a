package railproof.diagnosis;

import java.util.Map;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.signal.LineSpectrum;
import railproof.signal.Reservoir;

/**
 * What only a waveform tells: ripple at the line frequency itself, noise beside the line, how fast the reservoir falls.
 * Pure.
 */
public final class WaveReadings {
    private static final double LEAST_CYCLES = 3;
    /** Relative standard uncertainty of amplitudes and slopes read from a tenth of a second or so. */
    private static final double READ_RATIO = 0.02;

    private WaveReadings() {}

    /**
     * A capture of one node.
     *
     * @param samplesV its magnitude, V; not copied
     * @param rateHz samples per second, Hz
     * @param noiseV noise of one sample, V r.m.s.
     */
    @SuppressWarnings("ArrayRecordComponent") // read once, at once
    public record Trace(double[] samplesV, double rateHz, double noiseV) {}

    /** Adds what a capture of the output says. */
    public static void output(Map<Feature, Measured> into, Condition at, Trace output, double lineHz) {
        double[] outputV = output.samplesV();
        double rateHz = output.rateHz();
        double noiseV = output.noiseV();
        if (outputV.length < LEAST_CYCLES * rateHz / lineHz || rateHz < 12 * lineHz) {
            return;
        }
        LineSpectrum spectrum = LineSpectrum.of(outputV, rateHz, lineHz);
        double grainV = noiseV * Math.sqrt(4.0 / outputV.length);
        put(into, Sight.OUTPUT_LINE, at, spectrum.amplitudeV(1), grainV);
        put(into, Sight.OUTPUT_REST, at, without(spectrum.restRmsV(), noiseV), 0.3 * noiseV);
        put(into, Sight.OUTPUT_FAST, at, without(spectrum.fastRmsV(), noiseV), 0.3 * noiseV);
    }

    /** Adds what a capture of the reservoir says. */
    public static void raw(
            Map<Feature, Measured> into, Condition at, Trace reservoir, Reservoir.Rectifier rectifier, double lineHz) {
        double[] reservoirV = reservoir.samplesV();
        double rateHz = reservoir.rateHz();
        double noiseV = reservoir.noiseV();
        if (reservoirV.length < LEAST_CYCLES * rateHz / lineHz || rateHz < 40 * lineHz) {
            return;
        }
        LineSpectrum spectrum = LineSpectrum.of(reservoirV, rateHz, lineHz);
        put(into, Sight.RAW_LINE, at, spectrum.amplitudeV(1), noiseV * Math.sqrt(4.0 / reservoirV.length));
        try {
            double fall = -Reservoir.dischargeSlopeVPerS(reservoirV, rectifier, rateHz, lineHz);
            put(into, Sight.RAW_FALL, at, fall, noiseV * 10 * lineHz);
        } catch (IllegalArgumentException e) {
            // a reservoir that never falls carries no load: nothing to read
            return;
        }
    }

    private static double without(double rmsV, double noiseV) {
        return Math.sqrt(Math.max(0, rmsV * rmsV - noiseV * noiseV));
    }

    private static void put(Map<Feature, Measured> into, Sight sight, Condition at, double value, double u) {
        Feature.of(sight, at)
                .ifPresent(
                        feature -> into.put(feature, Measured.of(value, Math.hypot(u, READ_RATIO * value), Unit.VOLT)));
    }
}

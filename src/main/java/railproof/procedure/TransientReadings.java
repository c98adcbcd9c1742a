package railproof.procedure;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.Rail;
import railproof.rig.Accuracy;
import railproof.rig.WaveformColumns;
import railproof.run.Quantity;
import railproof.run.Waveform;
import railproof.signal.HoldUp;
import railproof.signal.LineEdge;
import railproof.signal.Ringing;
import railproof.signal.Rise;
import railproof.signal.StepOnset;
import railproof.signal.Transient;

/**
 * What a captured change says, with uncertainties. Pure.
 *
 * <p>Error budget. Times: the change came between two samples, so the middle of them is taken and the sample spacing is
 * a rectangle; the band's level error counts over the slope there; the board's clock (50 ppm) is below all that. Where
 * the moment of the change is read from the output itself it is late by as long as the output needs to leave its noise,
 * and where it is read from the line, near a zero, by as long as that is no line: the rectangle is as much wider.
 * Excursions: differences on one channel, so its offset cancels and its gain stays; ripple is part of what is read, noise
 * is taken off ({@code signal.Peak}).
 */
final class TransientReadings {
    /** Without an output band in the profile, this much of nominal is the band. */
    private static final double BAND_RATIO = 0.05;

    private final Rail rail;
    private final Waveform waveform;
    private final Accuracy accuracy;
    private final double cycleSamplesDimensionless;
    private final double lineHz;
    private final double[] outputV;

    /**
     * Reads a capture.
     *
     * @param accuracy of the output's channel
     * @param lineHz line frequency, Hz
     */
    TransientReadings(Rail rail, Waveform waveform, Accuracy accuracy, double lineHz) {
        this.lineHz = lineHz;
        this.cycleSamplesDimensionless = waveform.rateHz() / lineHz;
        this.rail = rail;
        this.waveform = waveform;
        this.accuracy = accuracy;
        this.outputV = column(waveform, Quantity.OUTPUT);
        if (rail.nominalV() < 0) {
            for (int i = 0; i < outputV.length; i++) {
                outputV[i] = -outputV[i];
            }
        }
    }

    private static double[] column(Waveform waveform, Quantity quantity) {
        String name = WaveformColumns.of(quantity);
        return waveform.traces().stream()
                .filter(trace -> trace.column().equals(name))
                .findFirst()
                .map(trace -> trace.samples().clone())
                .orElseThrow(() -> new IllegalArgumentException("the capture has no " + name));
    }

    /**
     * The answer to a step of the load.
     *
     * @param quietS time before anything was changed, s
     * @param bandV half-width of the band about the final value, V
     */
    Map<Quantity, Reading> step(double quietS, double bandV) {
        int quiet = quietSamples(quietS);
        OptionalInt onset = StepOnset.index(outputV, quiet, cycleSamplesDimensionless);
        Transient answer =
                Transient.of(outputV, waveform.rateHz(), onset.orElse(quiet), bandV, cycleSamplesDimensionless);
        Map<Quantity, Reading> readings = excursions(
                answer.finalV(), volts(answer.dipV(), answer.dipU()), volts(answer.overshootV(), answer.overshootU()));
        double bandU = accuracy.span(volts(bandV, answer.entryNoiseUV())).standardU();
        double slopeU = answer.slopeVPerS() > 0 ? bandU / answer.slopeVPerS() : 0;
        readings.put(
                Quantity.TRANSIENT_TIME,
                time(
                        answer.recoveryS(),
                        Math.hypot(1 / (waveform.rateHz() * Math.sqrt(12)), slopeU),
                        onset(quiet, onset.orElse(quiet)),
                        "it did not stay within its band about the final value"));
        OptionalDouble ringingHz = Ringing.frequencyHz(outputV, waveform.rateHz(), onset.orElse(quiet));
        if (ringingHz.isPresent()) {
            // each of the few crossings is known to a sample; 2 % covers damping (common practice, no source)
            readings.put(
                    Quantity.RINGING, Measured.of(ringingHz.getAsDouble(), 0.02 * ringingHz.getAsDouble(), Unit.HERTZ));
        }
        return readings;
    }

    /** The way down after line off. */
    Map<Quantity, Reading> holdUp() {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        Optional<LineEdge> off = LineEdge.off(column(waveform, Quantity.LINE), waveform.rateHz(), lineHz);
        if (off.isEmpty()) {
            readings.put(Quantity.TRANSIENT_TIME, new Missing("the line was not seen to go off"));
            return readings;
        }
        double phaseU = lineHz * off.get().halfWidthS() / Math.sqrt(3);
        off.get()
                .phaseCycles(column(waveform, Quantity.LINE), waveform.rateHz(), lineHz)
                .ifPresent(cycles -> readings.put(Quantity.LINE_PHASE, Measured.of(cycles, phaseU, Unit.RATIO)));
        double levelV = bandV().low();
        HoldUp holdUp = HoldUp.of(outputV, waveform.rateHz(), off.get().index(), levelV, levelU(levelV));
        readings.put(
                Quantity.TRANSIENT_TIME,
                time(holdUp.timeS(), holdUp.standardUS(), off.get(), "the output stood to the end of the record"));
        return readings;
    }

    /** The way up after line on. */
    Map<Quantity, Reading> start() {
        Optional<LineEdge> on = LineEdge.on(column(waveform, Quantity.LINE), waveform.rateHz(), lineHz);
        return on.isEmpty()
                ? new EnumMap<>(Map.of(Quantity.TRANSIENT_TIME, new Missing("the line was not seen to come on")))
                : rise(on.get());
    }

    /**
     * The way up after an overload is taken off.
     *
     * @param quietS time before it was taken off, s
     */
    Map<Quantity, Reading> afterOverload(double quietS) {
        int quiet = quietSamples(quietS);
        return rise(onset(
                quiet,
                StepOnset.index(outputV, quiet, cycleSamplesDimensionless).orElse(quiet)));
    }

    /** A change that shows in the output only: it came before the sample that first does. */
    private LineEdge onset(int quiet, int index) {
        double halfS = 0.5 * StepOnset.hiddenSamples(outputV, quiet, index) / waveform.rateHz();
        return new LineEdge(index, -halfS, halfS);
    }

    private Map<Quantity, Reading> rise(LineEdge from) {
        Band band = bandV();
        Rise rise = Rise.of(
                outputV,
                new Rise.Timing(waveform.rateHz(), cycleSamplesDimensionless),
                Math.min(from.index(), outputV.length - 10),
                band.low(),
                band.high(),
                levelU(band.low()));
        Map<Quantity, Reading> readings = excursions(
                rise.finalV(),
                volts(rise.fallBackV(), accuracy.noiseDimensionless()),
                volts(rise.overshootV(), rise.overshootU()));
        readings.put(
                Quantity.TRANSIENT_TIME,
                time(
                        rise.timeS(),
                        rise.standardUS(),
                        from,
                        String.format(java.util.Locale.ROOT, "it did not come up: %.3g V at the end", rise.finalV())));
        return readings;
    }

    private int quietSamples(double quietS) {
        // the deed may begin a moment early by the board's clock: its last hundredth is left out
        return Math.max(2, (int) (0.99 * quietS * waveform.rateHz()));
    }

    private static Measured volts(double value, double u) {
        return Measured.of(value, u, Unit.VOLT);
    }

    private Map<Quantity, Reading> excursions(double finalV, Measured under, Measured over) {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        double signedV = rail.nominalV() < 0 ? -finalV : finalV;
        readings.put(Quantity.OUTPUT, accuracy.level(Measured.of(signedV, 0, Unit.VOLT), 1));
        readings.put(Quantity.UNDERSHOOT, accuracy.span(under));
        readings.put(Quantity.OVERSHOOT, accuracy.span(over));
        return readings;
    }

    /**
     * A time from a change on.
     *
     * @param seconds since the first sample after the change, s
     * @param standardUS with the sample spacing as a rectangle in it, s
     * @param from when the change came, against that sample: where it is known less well, that takes the spacing's place
     */
    private Reading time(OptionalDouble seconds, double standardUS, LineEdge from, String otherwise) {
        double spacingU = 1 / (waveform.rateHz() * Math.sqrt(12));
        double restU = Math.sqrt(Math.max(0, standardUS * standardUS - spacingU * spacingU));
        return seconds.isPresent()
                ? Measured.of(
                        seconds.getAsDouble() - from.atS(),
                        Math.hypot(restU, from.halfWidthS() / Math.sqrt(3)),
                        Unit.SECOND)
                : new Missing(otherwise);
    }

    private double levelU(double levelV) {
        return accuracy.level(Measured.of(levelV, 0, Unit.VOLT), 1).standardU();
    }

    /** The profile's output band as magnitudes. */
    private Band bandV() {
        return magnitudes(rail);
    }

    static Band magnitudes(Rail rail) {
        double nominalV = Math.abs(rail.nominalV());
        Band band = rail.limits().outputV();
        double low = rail.nominalV() < 0 ? -band.high() : band.low();
        double high = rail.nominalV() < 0 ? -band.low() : band.high();
        return new Band(
                Double.isFinite(low) ? low : (1 - BAND_RATIO) * nominalV,
                Double.isFinite(high) ? high : (1 + BAND_RATIO) * nominalV);
    }
}

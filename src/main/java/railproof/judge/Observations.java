package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.ProfileFile;
import railproof.profile.Rail;
import railproof.run.ChannelAccuracy;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.signal.LineSpectrum;
import railproof.signal.RippleOrigin;
import railproof.signal.WarmUp;

/**
 * What a run shows beside its limits: of what kinds the ripple is, what is left of the reservoir, and how fast the rail
 * warms up. Pure: from the archived run alone.
 */
public final class Observations {
    /** Below the channel's own noise times this there is nothing to speak of; the noise itself is 1. */
    private static final double ABOVE_NOISE_RATIO = 1.5;
    /** Without a word about the channel: what no board resolves. */
    private static final double LEAST_RMS_V = 1e-5;
    /** A row so much later than its time under load says was taken after a break. */
    private static final double BREAK_S = 30;

    private static final int LEAST_ROWS = 12;
    private static final double NEARLY_THERE_RATIO = 0.01;
    private static final double SECONDS_PER_MINUTE = 60;

    private Observations() {}

    /** All of a run, rail by rail in the order of its points. */
    public static List<Observation> of(RunData run) {
        List<Rail> rails = rails(run);
        List<Observation> all = new ArrayList<>();
        for (String rail : run.points().stream().map(Point::rail).distinct().toList()) {
            all.addAll(captured(run, rail, rails));
            warmUp(run, rail, Quantity.OUTPUT)
                    .ifPresent(words -> all.add(new Observation(rail, "Warm-up of the output", words)));
            warmUp(run, rail, Quantity.HEAT_SINK)
                    .ifPresent(words -> all.add(new Observation(rail, "Warm-up of the heat sink", words)));
        }
        return all;
    }

    /** The rails of the profile that the run carries with it; none if it can no longer be read. */
    private static List<Rail> rails(RunData run) {
        try {
            return ProfileFile.parse(run.header().profile()).profile().rails();
        } catch (BadFileException e) {
            // the run keeps its points; this is no place to complain
            return List.of();
        }
    }

    /** What the capture at the largest load says. */
    private static List<Observation> captured(RunData run, String rail, List<Rail> rails) {
        Optional<Point> point = mostLoaded(run, rail);
        Optional<Double> lineHz = point.flatMap(
                        p -> p.reading(Quantity.LINE_FREQUENCY).measured())
                .map(Measured::value);
        Optional<Waveform> waveform = point.flatMap(p -> run.waveforms().stream()
                .filter(w -> w.id() == p.waveform().orElse(-1))
                .findFirst());
        if (lineHz.isEmpty() || waveform.isEmpty()) {
            return List.of();
        }
        String at = ", at " + Words.at(point.orElseThrow());
        double rateHz = waveform.get().rateHz();
        List<Observation> all = new ArrayList<>();
        trace(waveform.get(), "output", lineHz.get())
                .map(samples -> ripple(samples, rateHz, lineHz.get(), leastV(run, rail, Quantity.OUTPUT)))
                .ifPresent(words -> all.add(new Observation(rail, "Ripple of the output", words + at)));
        Optional<double[]> raw = trace(waveform.get(), "raw", lineHz.get());
        double leastV = leastV(run, rail, Quantity.RAW);
        raw.map(samples -> ripple(samples, rateHz, lineHz.get(), leastV))
                .ifPresent(words -> all.add(new Observation(rail, "Ripple of the reservoir", words + at)));
        rails.stream()
                .filter(each -> each.name().equals(rail))
                .findFirst()
                .flatMap(each ->
                        raw.flatMap(samples -> ReservoirAge.of(each, point.orElseThrow(), samples, rateHz, leastV)))
                .ifPresent(words -> all.add(new Observation(rail, "Reservoir", words)));
        return all;
    }

    private static Optional<double[]> trace(Waveform waveform, String column, double lineHz) {
        return waveform.traces().stream()
                .filter(trace -> trace.column().startsWith(column))
                .map(Waveform.Trace::samples)
                .filter(samples -> LineSpectrum.fits(samples.length, waveform.rateHz(), lineHz))
                .findFirst();
    }

    private static double leastV(RunData run, String rail, Quantity quantity) {
        return CalibrationState.accuracy(run, rail, quantity)
                .map(ChannelAccuracy::noiseRmsDimensionless)
                .map(noise -> Math.max(LEAST_RMS_V, ABOVE_NOISE_RATIO * noise))
                .orElse(LEAST_RMS_V);
    }

    private static String ripple(double[] samples, double rateHz, double lineHz, double leastV) {
        return words(RippleOrigin.of(LineSpectrum.of(samples, rateHz, lineHz), lineHz, leastV));
    }

    /** The last hot reading of a burn-in, or the point of the load sweep with the largest current. */
    private static Optional<Point> mostLoaded(RunData run, String rail) {
        List<Point> hot = run.points(Section.BURN_IN_HOT, rail);
        if (!hot.isEmpty()) {
            return Optional.of(hot.get(hot.size() - 1));
        }
        return run.points(Section.LOAD_SWEEP, rail).stream()
                .filter(point -> point.waveform().isPresent())
                .max(java.util.Comparator.comparingDouble(point -> point.asked().level()));
    }

    private static String words(List<RippleOrigin> found) {
        return found.isEmpty()
                ? "nothing above the channel's own noise"
                : found.stream().map(Observations::words).collect(Collectors.joining("; "));
    }

    private static String words(RippleOrigin origin) {
        String kind =
                switch (origin.kind()) {
                    case HUM -> "hum, a sine of the line";
                    case ONE_WAY_RECTIFIER -> "one-way rectification: one half does not conduct";
                    case UNBALANCED_RECTIFIER -> "two-way rectification with unequal halves";
                    case TWO_WAY_RECTIFIER -> "two-way rectification";
                    case OSCILLATION -> "oscillation";
                    case NOISE -> "broadband rest (noise, sharp edges)";
                };
        String at = origin.frequencyHz() > 0 ? " at " + Words.of(origin.frequencyHz(), Unit.HERTZ) : "";
        return kind + at + ", " + Words.of(origin.rmsV(), Unit.VOLT) + " r.m.s.";
    }

    private static Optional<String> warmUp(RunData run, String rail, Quantity quantity) {
        List<double[]> rows = new ArrayList<>();
        double waitedS = Double.NaN;
        for (Point point : run.points(Section.BURN_IN, rail)) {
            Optional<Measured> loaded = point.reading(Quantity.LOADED_TIME).measured();
            Optional<Measured> value = point.reading(quantity).measured();
            if (loaded.isEmpty() || value.isEmpty()) {
                continue;
            }
            double loadedS = loaded.get().value();
            double unloadedS = point.elapsedS() - loadedS;
            waitedS = Double.isNaN(waitedS) ? unloadedS : waitedS;
            if (unloadedS - waitedS > BREAK_S) {
                break;
            }
            if (rows.isEmpty() || loadedS > rows.get(rows.size() - 1)[0]) {
                rows.add(new double[] {loadedS, Math.abs(value.get().value())});
            }
        }
        if (rows.size() < LEAST_ROWS) {
            return Optional.empty();
        }
        double[] timesS = rows.stream().mapToDouble(row -> row[0]).toArray();
        double[] values = rows.stream().mapToDouble(row -> row[1]).toArray();
        return WarmUp.of(timesS, values).map(warm -> words(warm, quantity.unit()));
    }

    private static String words(WarmUp warm, Unit unit) {
        return String.format(
                Locale.ROOT,
                "from %s to %s with a time constant of %.3g min ± %.2g min (k = 2); a hundredth of the way is left"
                        + " after %.3g min",
                Words.of(warm.endV() + warm.stepV(), unit),
                Words.of(warm.endV(), unit),
                warm.tauS() / SECONDS_PER_MINUTE,
                2 * warm.tauU() / SECONDS_PER_MINUTE,
                warm.leftAtS(NEARLY_THERE_RATIO) / SECONDS_PER_MINUTE);
    }
}

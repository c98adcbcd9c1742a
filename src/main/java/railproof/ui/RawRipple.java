package railproof.ui;

import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.run.Waveform;
import railproof.signal.LineSpectrum;
import railproof.signal.RippleOrigin;

/** What the ripple at the reservoir says of the rectifier before it. Pure. */
final class RawRipple {
    /** Below this nothing at a reservoir is worth a word (common practice, no source). */
    private static final double LEAST_RMS_V = 0.001;

    private static final double CYCLES_NEEDED = 3;

    private RawRipple() {}

    /** The kinds of ripple in a capture, the strongest first; empty without a probe there, or without enough cycles. */
    static List<RippleOrigin> of(Waveform capture, Reading lineFrequency) {
        Optional<double[]> raw = capture.traces().stream()
                .filter(trace -> trace.column().startsWith("raw"))
                .map(Waveform.Trace::samples)
                .findFirst();
        Optional<Measured> lineHz = lineFrequency.measured();
        if (raw.isEmpty() || lineHz.isEmpty() || lineHz.get().value() <= 0) {
            return List.of();
        }
        double samplesPerCycle = capture.rateHz() / lineHz.get().value();
        if (samplesPerCycle <= 10 || raw.get().length < CYCLES_NEEDED * samplesPerCycle) {
            return List.of();
        }
        LineSpectrum spectrum =
                LineSpectrum.of(raw.get(), capture.rateHz(), lineHz.get().value());
        return RippleOrigin.of(spectrum, lineHz.get().value(), LEAST_RMS_V);
    }

    /** In words for a field of the path. */
    static String words(List<RippleOrigin> origins) {
        if (origins.isEmpty()) {
            return "–";
        }
        return switch (origins.get(0).kind()) {
            case HUM -> "hum of the line";
            case ONE_WAY_RECTIFIER -> "one way only";
            case UNBALANCED_RECTIFIER -> "both ways, unequal";
            case TWO_WAY_RECTIFIER -> "both ways, alike";
            case OSCILLATION -> "oscillation";
            case NOISE -> "noise";
        };
    }

    /** Whether the strongest kind is one a sound rectifier does not leave. */
    static boolean suspicious(List<RippleOrigin> origins) {
        return !origins.isEmpty() && origins.get(0).kind() != RippleOrigin.Kind.TWO_WAY_RECTIFIER;
    }
}

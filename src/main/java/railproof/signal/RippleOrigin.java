package railproof.signal;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * What kinds of disturbance a rail's ripple is made of, told from its spectrum along the line. A clue for whoever
 * repairs, not a verdict.
 *
 * <p>Rules. The line's share by the ratio of the amplitude at the line to that at twice the line: a sawtooth of the
 * line's period has 2 (its Fourier series falls as 1/n), a one-way rectifier in a circuit simulation 2.16, so 1.4 to 4
 * is one-way rectification; above is a sine of the line, coupled in and not rectified; windings 1 to 5 % unequal give
 * 0.15 to 1 (circuit simulation), so 0.1 to 1.4 is unbalance; below is plain two-way rectification. What belongs to no
 * multiple of the line is an oscillation if most of its power stands in one line of the spectrum, else noise. The
 * bounds between the kinds are common practice, no source.
 *
 * <p>Thread: immutable; any.
 *
 * @param kind what it is
 * @param rmsV how much of it, V r.m.s.
 * @param frequencyHz where it is strongest, Hz; 0 for noise, which is nowhere
 */
public record RippleOrigin(Kind kind, double rmsV, double frequencyHz) {
    private static final double SINE_OF_LINE_RATIO = 4;
    private static final double ONE_WAY_RATIO = 1.4;
    private static final double UNBALANCED_RATIO = 0.1;

    /** Kinds of disturbance. */
    public enum Kind {
        /** A sine at the line: picked up, or a loop through ground. */
        HUM,
        /** A sawtooth at the line: one half of the rectifier does not conduct. */
        ONE_WAY_RECTIFIER,
        /** Both halves conduct, but not alike. */
        UNBALANCED_RECTIFIER,
        /** Twice the line: what a sound rectifier and its reservoir leave. */
        TWO_WAY_RECTIFIER,
        /** One frequency that does not belong to the line. */
        OSCILLATION,
        /** No frequency of its own. */
        NOISE
    }

    /**
     * The kinds present, the strongest first; empty if there is nothing to speak of.
     *
     * @param leastRmsV what is not worth a word, V r.m.s.: the channel's own noise, say
     */
    public static List<RippleOrigin> of(LineSpectrum spectrum, double lineHz, double leastRmsV) {
        Samples.requirePositive("line frequency", lineHz);
        Samples.requirePositive("least ripple", leastRmsV);
        List<RippleOrigin> found = new ArrayList<>();
        Kind line = lineKind(spectrum);
        boolean twice = line == Kind.TWO_WAY_RECTIFIER || line == Kind.UNBALANCED_RECTIFIER;
        found.add(new RippleOrigin(line, spectrum.lineRmsV(), twice ? 2 * lineHz : lineHz));
        boolean tone = spectrum.toneRmsV() * spectrum.toneRmsV() > 0.5 * spectrum.restRmsV() * spectrum.restRmsV();
        found.add(
                tone
                        ? new RippleOrigin(Kind.OSCILLATION, spectrum.toneRmsV(), spectrum.strongestRestHz())
                        : new RippleOrigin(Kind.NOISE, spectrum.restRmsV(), 0));
        return found.stream()
                .filter(origin -> origin.rmsV() > leastRmsV)
                .sorted(Comparator.comparingDouble(RippleOrigin::rmsV).reversed())
                .toList();
    }

    private static Kind lineKind(LineSpectrum spectrum) {
        double first = spectrum.amplitudeV(1);
        double second = spectrum.amplitudeV(2);
        if (first > SINE_OF_LINE_RATIO * second) {
            return Kind.HUM;
        }
        if (first > ONE_WAY_RATIO * second) {
            return Kind.ONE_WAY_RECTIFIER;
        }
        return first > UNBALANCED_RATIO * second ? Kind.UNBALANCED_RECTIFIER : Kind.TWO_WAY_RECTIFIER;
    }
}

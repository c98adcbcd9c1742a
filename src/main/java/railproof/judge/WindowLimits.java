package railproof.judge;

import railproof.base.Measured;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Waveform;

/**
 * By how much a rail's mean over whole line cycles may be off at most because of the window: bounds from the archived
 * run's largest ripple on the rail, its slowest capture and its highest line frequency; the rail's ripple is taken as a
 * sine of twice the line.
 *
 * @param timingV half-width from the time base: a window of N cycles that is too long by the clock's error takes in that
 *     part of a ripple's half swing, at most clock error · pp / 2
 * @param samplingV half-width from the straight line between samples where the window's end falls between two: 2 A / m²
 *     for amplitude A = pp / 2 at m samples per ripple cycle, as {@link railproof.signal.Cycles} has it; windows of many
 *     cycles do far better
 */
record WindowLimits(double timingV, double samplingV) {
    /** Frequency error of the board's clock, relative: a crystal's usual tolerance (common practice, no source). */
    private static final double CLOCK_RATIO = 50e-6;

    static WindowLimits of(RunData run, String rail) {
        double ppV = largest(run, rail, Quantity.RIPPLE_PP);
        double lineHz = largest(run, rail, Quantity.LINE_FREQUENCY);
        double rateHz = run.waveforms().stream()
                .filter(waveform -> waveform.rail().equals(rail))
                .mapToDouble(Waveform::rateHz)
                .min()
                .orElse(0);
        double perRipple = lineHz > 0 ? rateHz / (2 * lineHz) : 0;
        return new WindowLimits(CLOCK_RATIO * ppV / 2, perRipple > 0 ? ppV / (perRipple * perRipple) : 0);
    }

    private static double largest(RunData run, String rail, Quantity quantity) {
        return run.points().stream()
                .filter(point -> point.rail().equals(rail))
                .map((Point point) -> point.reading(quantity).measured())
                .flatMap(found -> found.stream())
                .mapToDouble(Measured::value)
                .max()
                .orElse(0);
    }
}

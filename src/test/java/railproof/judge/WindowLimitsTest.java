package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.signal.Cycles;
import railproof.signal.Statistics;
import railproof.signal.UncertaintyBudget.Entry;

/** What the window over whole cycles may cost a mean, worked out by hand. */
class WindowLimitsTest {
    private static final String RAIL = "+12 V";

    private static RunData run(Waveform... waveforms) {
        RunData plain = BenchRun.healthy()
                .change(point -> true, Quantity.LINE_FREQUENCY, reading -> Measured.of(50, 0, Unit.HERTZ))
                .data();
        return new RunData(plain.header(), plain.points(), List.of(waveforms), plain.events(), plain.outcome());
    }

    private static Waveform capture(int id, String rail, double rateHz) {
        return new Waveform(id, Section.LOAD_SWEEP, rail, 0, rateHz, List.of());
    }

    /** Largest ripple 1 mV + 10.5 mohm x 2.645 A = 28.7725 mV; the slowest capture of this rail has 10 kHz. */
    @Test
    void boundsFollowFromRippleRateAndLine() {
        WindowLimits limits = WindowLimits.of(
                run(capture(0, RAIL, 25_000), capture(1, RAIL, 10_000), capture(2, "+5 V", 2000)), RAIL);

        // 50 ppm of half of it
        assertEquals(0.7193125e-6, limits.timingV(), 1e-15);
        // 100 samples in a ripple cycle of 10 ms: 2 (28.7725 mV / 2) / 100^2
        assertEquals(2.87725e-6, limits.samplingV(), 1e-15);
    }

    @Test
    void withoutACaptureThereIsNoWindow() {
        assertEquals(0, WindowLimits.of(run(), RAIL).samplingV(), 0);
        assertEquals(0, WindowLimits.of(run(capture(0, RAIL, 1e4)), "+5 V").timingV(), 0);
    }

    /** A sampled sine, a window that ends anywhere: the mean is never further off than the bound. */
    @Test
    void noMeanIsFurtherOffThanTheBound() {
        double worst = 0;
        double worstPlain = 0;
        double rateHz = 2000;
        double lineHz = 50;
        double perRipple = rateHz / (2 * lineHz);
        for (int step = 0; step < 400; step++) {
            double hz = lineHz * (1 + 0.02 * (step % 20) / 20);
            double[] volts = new double[300];
            for (int i = 0; i < volts.length; i++) {
                volts[i] = 5 + 0.5 * Math.sin(2 * Math.PI * (2 * hz * i / rateHz + step / 400.0));
            }
            double mean = Cycles.in(volts.length, rateHz, hz).mean(volts);
            worst = Math.max(worst, Math.abs(mean - 5));
            worstPlain = Math.max(worstPlain, Math.abs(Statistics.mean(volts) - 5));
        }
        double bound = 2 * 0.5 / (perRipple * perRipple);
        assertTrue(worst > 0 && worst <= bound, "worst " + worst + ", bound " + bound);
        // the mean of the record as it was cut breaks it, so the bound tells the two apart
        assertTrue(worstPlain > bound, "plain mean " + worstPlain);
    }

    @Test
    void rowsComeOutOfTheScatterOrSayThatTheyAreWithinIt() {
        WindowLimits limits = new WindowLimits(3e-6, 4e-6);
        BudgetRows wide = new BudgetRows(new Measured(12, 1e-3, 0, 9, Unit.VOLT));
        wide.window(limits);
        assertEquals(
                List.of("timing of the window", "sampling at the window's ends"),
                wide.entries().stream().map(Entry::name).toList());
        assertEquals(3e-6 / Math.sqrt(3), wide.entries().get(0).contribution(), 1e-18);
        assertEquals(4e-6 / Math.sqrt(3), wide.entries().get(1).contribution(), 1e-18);

        BudgetRows narrow = new BudgetRows(new Measured(12, 2e-6, 0, 9, Unit.VOLT));
        narrow.window(limits);
        // sqrt(3) uV fit into 2 uV; together with 4 / sqrt(3) uV they do not
        assertEquals(
                List.of("timing of the window", "sampling at the window's ends (in scatter)"),
                narrow.entries().stream().map(Entry::name).toList());
        assertEquals(0, narrow.entries().get(1).contribution(), 0);
    }
}

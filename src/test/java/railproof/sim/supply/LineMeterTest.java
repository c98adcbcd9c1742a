package railproof.sim.supply;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;

final class LineMeterTest {
    private static final double HZ = 50;
    /** Just before the pulse, in half cycles. */
    private static final double PULSE_BEGINS = 0.37;

    /** A charging pulse in the middle of each half cycle, a triangle of a quarter of it: rms = peak · √(1/4 · 1/3). */
    private static double pulseA(double cycles, double peakA) {
        double half = 2 * cycles - Math.floor(2 * cycles);
        double rising = Math.max(0, 1 - Math.abs(half - 0.5) / 0.125);
        return (Math.floor(2 * cycles) % 2 == 0 ? 1 : -1) * peakA * rising;
    }

    @Test
    void theCycleEndsWhereItEndsHoweverLongTheStepAcrossItIs() {
        long seed = System.nanoTime();
        Random random = new Random(seed);
        LineMeter meter = new LineMeter();
        double cycles = 0;
        while (cycles < 20) {
            // fine steps in the pulse, from one pulse to the next one or two long ones
            double fromPulse = 2 * cycles - PULSE_BEGINS;
            double nextPulse = (Math.floor(fromPulse) + 1 + PULSE_BEGINS) / 2;
            boolean inPulse = fromPulse - Math.floor(fromPulse) < 0.26;
            cycles = inPulse ? cycles + 1e-4 : Math.min(cycles + 0.1 + 0.2 * random.nextDouble(), nextPulse + 1e-6);
            meter.take(cycles / HZ, pulseA(cycles, 3), cycles, 0);
        }

        // straight lines between samples 1e-4 of a cycle apart: the two corners and the peak are off by 1e-6
        assertEquals(3 * Math.sqrt(0.25 / 3), meter.rmsA(), 1e-4, "seed " + seed);
    }

    @Test
    void magnetisingCurrentAddsInSquares() {
        LineMeter meter = new LineMeter();
        for (int i = 1; i <= 100; i++) {
            meter.take(i * 0.03 / HZ, 4, i * 0.03, 3);
        }

        assertEquals(5, meter.rmsA(), 1e-12);
    }

    @Test
    void aStepTakenBackWasNever() {
        LineMeter plain = new LineMeter();
        LineMeter undone = new LineMeter();
        for (int i = 1; i <= 90; i++) {
            double cycles = i * 0.03;
            plain.take(cycles / HZ, pulseA(cycles, 1), cycles, 0.1);
            undone.take(cycles / HZ + 0.001, 7, cycles + 0.5, 0.1);
            undone.takeBack();
            undone.take(cycles / HZ, pulseA(cycles, 1), cycles, 0.1);
        }

        assertEquals(plain.rmsA(), undone.rmsA());
    }
}

package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** The mapping from ticks to the host's clock, against clocks whose truth is known. */
class DeviceClockTest {
    private final DeviceClock clock = new DeviceClock(1_000_000);

    /** A device that was started at startNs of the host and runs fast by a ratio. */
    private record Truth(long startNs, double fastRatio) {
        double ticksAt(double hostNs) {
            return (hostNs - startNs) * 1e-3 * (1 + fastRatio);
        }

        double hostNsAt(long ticks) {
            return startNs + (double) ticks * 1e3 / (1 + fastRatio);
        }

        ClockReading reading(long sentNs, double outNs, double backNs) {
            double arrivedNs = (double) sentNs + outNs;
            double answeredNs = arrivedNs + 300_000;
            return new ClockReading(sentNs, (long) Math.ceil(answeredNs + backNs), (long) ticksAt(arrivedNs), (long)
                    ticksAt(answeredNs));
        }
    }

    private static void near(double expectedNs, long actualNs, double marginNs, long boundNs) {
        double missNs = Math.abs(expectedNs - actualNs);
        assertTrue(missNs <= marginNs + boundNs, missNs + " ns off, allowed " + marginNs + " + " + boundNs);
    }

    @Test
    void oneReadingBoundsTheInstantByHalfTheRoundTrip() {
        Truth truth = new Truth(5_000_000_000L, 0);
        clock.add(truth.reading(7_000_000_000L, 400_000, 600_000));

        DeviceClock.Instant instant = clock.at(2_000_550);

        // link time 1 ms: +-0.5 ms, and a tick of resolution either way
        near(500_000, instant.boundNs(), 2000, 0);
        near(truth.hostNsAt(2_000_550), instant.hostNs(), 0, instant.boundNs());
    }

    @Test
    void theTruthIsAlwaysWithinTheBound() {
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            DeviceClock own = new DeviceClock(1_000_000);
            Truth truth = new Truth(random.nextInt(1_000_000_000), (random.nextDouble() - 0.5) * 300e-6);
            long nowNs = 2_000_000_000L;
            for (int k = 0; k < 100; k++) {
                nowNs += 10_000_000L + random.nextInt(500_000_000);
                // one-way times with a long tail, now and then very lopsided
                own.add(truth.reading(
                        nowNs, 50_000 - 200_000 * Math.log(1 - random.nextDouble()), random.nextInt(3_000_000)));
                long ticks = (long) truth.ticksAt((double) nowNs - random.nextInt(1_000_000_000));
                DeviceClock.Instant instant = own.at(ticks);
                // a tick is 1 us: the readings are cut to whole ticks
                near(truth.hostNsAt(ticks), instant.hostNs(), 2000, instant.boundNs());
            }
        }
    }

    @Test
    void findsTheDriftOfTheCrystal() {
        Truth truth = new Truth(0, -80e-6);
        Random random = new Random(7);
        for (int k = 1; k <= 64; k++) {
            clock.add(truth.reading(
                    k * 1_000_000_000L, 100_000 + random.nextInt(50_000), 100_000 + random.nextInt(50_000)));
        }

        // a tick lasts longer by 80 ppm; over 63 s with 25 us of jitter, sigma(slope) about 0.1 ppm
        assertEquals(80e-6, clock.driftRatio(), 0.5e-6);
        assertTrue(
                clock.at(60_000_000).boundNs() < 200_000, clock.at(60_000_000).toString());
    }

    @Test
    void knowsNothingWithoutReadings() {
        assertThrows(IllegalStateException.class, () -> clock.at(1));
        assertEquals(0, clock.driftRatio());
    }

    @Test
    void forgetsEverythingWhenTheDeviceHasRestarted() {
        clock.add(new Truth(0, 0).reading(9_000_000_000L, 1000, 1000));
        clock.add(new Truth(9_500_000_000L, 0).reading(10_000_000_000L, 1000, 1000));

        assertEquals(1, clock.readings());
        near(1e10, clock.at(500_000).hostNs(), 10_000, 0);
    }

    @Test
    void readsTheClockAndTheCountersOfASimulatedBoard() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.clock.sleepNs(2_000_000_000L);

        ClockReading reading = bench.driver.readClock().orElseThrow();
        clock.add(reading);
        BoardCounters counters = bench.driver.counters();

        DeviceClock.Instant instant = clock.at(reading.txTicks());
        near((double) bench.clock.nowNs(), instant.hostNs(), 2000, instant.boundNs());
        assertTrue(counters.clean(), counters.toString());
        assertTrue(counters.rxFrames() >= 5, counters.toString());
    }
}

package railproof.sim.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class SimulatedLoadTest {
    private static final long MS = 1_000_000;

    /** Rounding of a few double operations; what is compared is exact in algebra. */
    private static final double ROUNDING = 1e-12;

    private final SimulatedLoad load = SimulatedLoad.ideal();
    private long nowNs;

    SimulatedLoadTest() {
        load.advanceTo(0);
        send(":SYST:REM;*CLS");
    }

    private String send(String line) {
        return send(load, line);
    }

    private static String send(SimulatedLoad load, String line) {
        StringBuilder replies = new StringBuilder();
        load.receive(
                (line + "\n").getBytes(StandardCharsets.US_ASCII),
                bytes -> replies.append(new String(bytes, StandardCharsets.US_ASCII)));
        return replies.toString().strip();
    }

    private double number(String query) {
        return Double.parseDouble(send(query));
    }

    /** Time passes in steps of a millisecond while the terminals see a fixed voltage. */
    private void hold(double voltageV, int ms) {
        for (int i = 0; i < ms; i++) {
            nowNs += MS;
            load.advanceTo(nowNs);
            load.observe(voltageV, load.characteristic().currentA(voltageV));
        }
    }

    @Test
    void drawsNothingUntilSwitchedOn() {
        send(":CURR 10");
        hold(12, 20);

        assertEquals(0, load.characteristic().currentA(12), 0);
        assertEquals("0", send(":INP?"));
    }

    @Test
    void holdsTheCurrentWhateverTheVoltage() {
        send(":FUNC CURR;:CURR 10;:INP ON");
        hold(12, 20);

        // 20 ms after the start the tail is exp(-200) of the step
        assertEquals(10, load.characteristic().currentA(12), 1e-9);
        assertEquals(10, load.characteristic().currentA(5), 1e-9);
    }

    /** 30 A in 200 us is 0.15 A/us: after 20 us 3 A, on the straight part of the way to 20 A. */
    @Test
    void slewsToItsLevel() {
        send(":CURR 20;:INP ON");
        load.advanceTo(20_000);

        assertEquals(3, load.characteristic().currentA(12), 1e-9);
    }

    /** Minimum operating voltage 0.9 V at 30 A: below, a resistor of 30 milliohm. */
    @Test
    void isAResistorBelowItsMinimumVoltage() {
        send(":CURR 20;:INP ON");
        hold(12, 20);

        assertEquals(20, load.characteristic().currentA(0.6), 1e-9);
        assertEquals(10, load.characteristic().currentA(0.3), ROUNDING);
        assertEquals(0, load.characteristic().currentA(0), 0);
    }

    @Test
    void saysThatItCannotHoldItsLevel() {
        send(":CURR 20;:INP ON");
        hold(0.3, 20);

        assertEquals(512, (int) number(":STAT:QUES:COND?"));
    }

    @Test
    void holdsAResistance() {
        send(":FUNC RES;:RES 6;:INP ON");
        hold(12, 20);

        assertEquals(2, load.characteristic().currentA(12), 1e-9);
        assertEquals(1, load.characteristic().currentA(6), 1e-9);
    }

    /** Below its level nothing flows, above it the current rises with half the fully conducting load's resistance. */
    @Test
    void holdsAVoltage() {
        send(":FUNC VOLT;:VOLT 5;:INP ON");
        hold(5, 20);

        assertEquals(0, load.characteristic().currentA(4.9), 0);
        // (5.15 V - 5 V) / 15 milliohm
        assertEquals(10, load.characteristic().currentA(5.15), 1e-9);
        assertEquals(30, load.characteristic().currentA(200), 1e-9);
    }

    @Test
    void changesModeWithoutABump() {
        send(":CURR 2;:INP ON");
        hold(12, 20);
        send(":RES 3;:FUNC RES");

        assertEquals(2, load.characteristic().currentA(12), 1e-9);
        hold(12, 20);
        assertEquals(4, load.characteristic().currentA(12), 1e-9);
    }

    @ParameterizedTest
    @EnumSource(LoadStage.Mode.class)
    void neverSinksLessAtAHigherVoltage(LoadStage.Mode mode) {
        long seed = 3;
        Random random = new Random(seed);
        for (int round = 0; round < 100; round++) {
            send(":INP OFF;:FUNC " + mode.word() + ";:CURR " + 30 * random.nextDouble() + ";:VOLT "
                    + 200 * random.nextDouble() + ";:RES " + (0.03 + 100 * random.nextDouble()) + ";:INP ON");
            hold(10, 1);
            assertTrue(load.inputOn());
            double beforeA = 0;
            for (double voltageV = 0; voltageV < 250; voltageV += 0.37) {
                double currentA = load.characteristic().currentA(voltageV);
                assertTrue(currentA >= beforeA, "seed " + seed + ", round " + round + ", " + voltageV + " V");
                beforeA = currentA;
            }
            send(":INP:PROT:CLE;*CLS");
        }
    }

    @Test
    void dropsOnOverVoltageAtOnce() {
        send(":VOLT:PROT 20;:CURR 1;:INP ON");
        hold(21, 1);

        assertTripped(1, 201);
    }

    @Test
    void dropsOnOverCurrentAfterItsDelay() {
        send(":CURR:PROT 5;:CURR 6;:INP ON");
        hold(12, 1);
        assertTrue(load.inputOn());
        hold(12, 2);

        assertTripped(2, 202);
    }

    @Test
    void dropsOnOverPowerAfterItsDelay() {
        send(":POW:PROT 50;:CURR 5;:INP ON");
        hold(12, 3);

        assertTripped(8, 203);
    }

    /** 300 W rated; 60 K at rated power for ever, so 315 W (the protection's most) is 25 + 63 = 88 °C: never trips. */
    @Test
    void getsWarmByItsPowerButNotTooWarmWithinItsRatings() {
        send(":CURR 10;:INP ON");
        for (int second = 1; second <= 600; second++) {
            load.advanceTo(second * 1000L * MS);
            load.observe(30, load.characteristic().currentA(30));
        }

        // ten minutes are ten time constants: 85 °C less exp(-10) of 60 K; the first second is still without power
        assertEquals(85, load.heatSinkC(), 2 * 60 * Math.exp(-10));
        assertTrue(load.inputOn());
    }

    @Test
    void dropsWhenItsHeatSinkIsTooHot() {
        LoadGuard guard = new LoadGuard(LoadRatings.BENCH);
        guard.warm(600, 400);

        // 25 °C + 400 W x 0.2 K/W = 105 °C
        assertEquals(LoadGuard.TEMPERATURE, guard.look(1, 1, 1e-3));
        guard.clear();
        assertEquals(LoadGuard.TEMPERATURE, guard.tripped());
        guard.warm(60, 0);
        guard.clear();
        assertEquals(0, guard.tripped());
    }

    private void assertTripped(int bit, int code) {
        assertFalse(load.inputOn());
        assertEquals(0, load.characteristic().currentA(12), 0);
        assertTrue(send(":SYST:ERR?").startsWith(code + ","));
        assertEquals(bit, (int) number(":STAT:QUES?"));
        send(":INP ON");
        assertTrue(send(":SYST:ERR?").startsWith("-221,"));
        send(":VOLT:PROT MAX;:CURR:PROT MAX;:POW:PROT MAX;:INP:PROT:CLE;:INP ON");
        assertTrue(load.inputOn());
    }

    @Test
    void aDeadProtectionDoesNotDrop() {
        load.fault(LoadFault.PROTECTION_DEAD, true);
        send(":VOLT:PROT 20;:CURR 1;:INP ON");
        hold(21, 10);

        assertTrue(load.inputOn());
    }

    @Test
    void theWatchdogIsFedByMeaningOnly() {
        send(":SYST:WATC 1;:CURR 1;:INP ON");
        hold(12, 900);
        send("GARBAGE");
        hold(12, 99);
        assertTrue(load.inputOn());
        hold(12, 1);

        assertFalse(load.inputOn());
        assertEquals(1024, (int) number(":STAT:QUES?"));
    }

    @Test
    void anyUnderstoodMessageFeedsTheWatchdog() {
        send(":SYST:WATC 1;:CURR 1;:INP ON");
        for (int i = 0; i < 5; i++) {
            hold(12, 900);
            send("*OPC?");
        }

        assertTrue(load.inputOn());
    }

    /** 0.1 % gain, 10 mA offset, no noise: 5 A reads as 5.015 A. The reply has seven digits. */
    @Test
    void readsWithItsGainAndOffset() {
        SimulatedLoad wrong =
                new SimulatedLoad(LoadRatings.BENCH, new LoadAccuracy(-0.002, 0.05, 0, 0.001, 0.01, 0, 0, 0), 1);
        wrong.advanceTo(0);
        wrong.advanceTo(100 * MS);
        wrong.observe(10, 5);

        assertEquals(10 * 0.998 + 0.05, Double.parseDouble(send(wrong, ":MEAS:VOLT?")), 5e-6);
        assertEquals(5.015, Double.parseDouble(send(wrong, ":MEAS:CURR?")), 5e-6);
    }

    /** Mean and spread of 4000 readings: standard error 1 mV / sqrt(4000) = 16 uV, of the spread 11 uV; five sigmas. */
    @Test
    void readsWithNoiseOfTheGivenSize() {
        SimulatedLoad noisy =
                new SimulatedLoad(LoadRatings.BENCH, new LoadAccuracy(0, 0, 1e-3, 0, 0, 0, 0, 0), 20261125);
        noisy.advanceTo(0);
        noisy.advanceTo(100 * MS);
        noisy.observe(1, 0);
        double sum = 0;
        double squares = 0;
        int n = 4000;
        for (int i = 0; i < n; i++) {
            double deviationV = Double.parseDouble(send(noisy, ":MEAS:VOLT?")) - 1;
            sum += deviationV;
            squares += deviationV * deviationV;
        }
        assertEquals(0, sum / n, 80e-6, "seed 20261125");
        assertEquals(1e-3, Math.sqrt(squares / n), 55e-6, "seed 20261125");
    }

    @Test
    void sinksWithItsSettingError() {
        SimulatedLoad wrong = new SimulatedLoad(LoadRatings.BENCH, new LoadAccuracy(0, 0, 0, 0, 0, 0, 0.001, 0.02), 1);
        wrong.advanceTo(0);
        send(wrong, ":SYST:REM;:CURR 10;:INP ON");
        wrong.advanceTo(100 * MS);

        assertEquals(10.03, wrong.characteristic().currentA(12), 1e-9);
        assertEquals("1.000000E+01", send(wrong, ":CURR?"));
    }

    /** Ripple of 100 Hz has two whole periods in the meter's 20 ms; sampled every 0.1 ms its mean is that of the sine. */
    @Test
    void averagesRippleOverAMainsCycle() {
        for (int i = 1; i <= 1000; i++) {
            load.advanceTo(i * 100_000L);
            load.observe(12 + Math.sin(2 * Math.PI * 100 * i * 1e-4), 0);
        }

        assertEquals(12, number(":MEAS:VOLT?"), 1e-5);
    }

    @Test
    void obeysOffInLocalControlButNothingElse() {
        send(":CURR 1;:INP ON;:SYST:LOC");
        send(":CURR 5");
        assertTrue(send(":SYST:ERR?").startsWith("-201,"));
        send(":INP OFF");
        assertFalse(load.inputOn());
        send(":INP ON");
        assertFalse(load.inputOn());
    }

    @Test
    void aPowerCycleForgetsEverythingAndSaysNothing() {
        send(":CURR:PROT 5;:CURR 1;:INP ON");
        hold(12, 10);
        load.powerCycle();

        assertFalse(load.inputOn());
        assertTrue(send(":SYST:ERR?").startsWith("0,"));
        assertEquals(128, (int) number("*ESR?"));
        assertEquals(31.5, number(":CURR:PROT?"), 1e-6);
        send(":CURR 1");
        assertTrue(send(":SYST:ERR?").startsWith("-201,"));
    }

    @Test
    void resetSwitchesOffAndKeepsTheErrorQueue() {
        send(":CURR 1;:INP ON");
        send("NONSENSE");
        send("*RST");

        assertFalse(load.inputOn());
        assertEquals(0, number(":CURR?"), 0);
        assertTrue(send(":SYST:ERR?").startsWith("-113,"));
    }

    @Test
    void liesAsTold() {
        send(":CURR 1;:INP ON");
        load.fault(LoadFault.CLAIMS_OFF, true);
        assertEquals("0", send(":INP?"));
        load.fault(LoadFault.CLAIMS_OFF, false);
        load.fault(LoadFault.IGNORES_OFF, true);
        send(":INP OFF");
        assertTrue(load.inputOn());
        assertEquals("1", send(":INP?"));
        load.fault(LoadFault.IGNORES_OFF, false);
        send(":INP OFF");
        load.fault(LoadFault.CLAIMS_ON, true);
        assertEquals("1", send(":INP?"));
        load.fault(LoadFault.SILENT, true);
        assertEquals("", send(":INP?"));
        load.fault(LoadFault.SILENT, false);
        load.fault(LoadFault.MEASURES_NOTHING, true);
        assertEquals("9.91E+37", send(":MEAS:CURR?"));
        load.fault(LoadFault.DEAF, true);
        send(":INP ON");
        assertFalse(load.inputOn());
    }

    @Test
    void theSameSeedGivesTheSameReadings() {
        SimulatedLoad one = new SimulatedLoad(LoadRatings.BENCH, LoadAccuracy.ORDINARY, 5);
        SimulatedLoad same = new SimulatedLoad(LoadRatings.BENCH, LoadAccuracy.ORDINARY, 5);
        SimulatedLoad other = new SimulatedLoad(LoadRatings.BENCH, LoadAccuracy.ORDINARY, 6);

        String reading = send(one, ":MEAS:VOLT?");
        assertEquals(reading, send(same, ":MEAS:VOLT?"));
        assertNotEquals(reading, send(other, ":MEAS:VOLT?"));
    }
}

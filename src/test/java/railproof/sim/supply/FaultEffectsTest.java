package railproof.sim.supply;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * What each fault does to a running unit. The static faults are checked against the outside circuit simulator
 * elsewhere; the dictionary values repeated here (12 V 2 A supply at 60 Hz, computed with that simulator) keep the
 * check in every build.
 */
final class FaultEffectsTest {
    private static Plant running(String unit, String fault, double loadRatio, long seed) {
        UnitDesign design = SimulatedUnits.named(unit);
        List<PlacedFault> faults = fault.isEmpty() ? List.of() : List.of(PlacedFault.parse(fault));
        Plant plant = design.build(Surroundings.standard(seed), faults);
        plant.line(design.nominalLineV(), design.nominalLineHz());
        plant.advanceTo(0.1);
        for (int rail = 0; rail < design.rails().size(); rail++) {
            double drawA = loadRatio * design.rails().get(rail).ratedA();
            plant.load(rail, voltageV -> drawA * Math.min(1, voltageV / 0.6));
        }
        plant.advanceTo(0.5);
        return plant;
    }

    @ParameterizedTest
    @CsvSource({
        // fault, load A, output V, raw V, raw peak to peak V
        "open-rectifier-diode, 1, 12.11, 18.45, 2.099",
        "reservoir-low-capacitance, 1, 12.14, 19.63, 1.83",
        "reservoir-low-capacitance:0.9, 2, 10.08, 15.49, 11.96",
        "reservoir-high-esr, 2, 11.71, 16.18, 6.202",
        "secondary-joint-resistance, 2, 11.23, 14.08, 1.251",
        "pass-transistor-short, 1, 19.17, 19.49, 1.068",
        "pass-transistor-open, 1, 0.3657, 20.35, 0.6032",
        "driver-open, 1, 0.3222, 20.47, 0.5379",
        "driver-low-gain, 2, 9.302, 18.53, 1.681",
        "reference-short, 1, 1.426, 19.74, 0.9465",
        "reference-open, 1, 17.72, 19.75, 0.9135",
        "error-transistor-open, 1, 17.70, 19.74, 0.9226",
        "error-transistor-short, 1, 3.982, 19.75, 0.944",
        "divider-upper-open, 1, 17.71, 19.74, 0.9181",
        "divider-lower-open, 1, 6.389, 19.75, 0.9438",
        "divider-upper-high, 1, 12.72, 19.74, 0.9477",
        "sense-resistor-high, 3.5, 0.2261, 19.33, 1.197",
        "limit-transistor-open, 3.5, 11.94, 17.06, 2.698",
        "base-feed-high, 2, 9.039, 18.52, 1.693",
        "low-line, 2, 11.88, 15.20, 1.653"
    })
    void dictionaryValuesHold(String fault, double loadA, double outV, double rawV, double rawRippleV) {
        Plant plant = Bench.supply().build(Bench.AT_27_C, List.of(PlacedFault.parse(fault)));
        plant.line(115, 60);
        plant.load(0, voltageV -> loadA * Math.min(1, voltageV / 0.6));
        plant.advanceTo(0.6);

        Observed[] seen = Observed.of(plant, 0, new Node[] {Node.OUTPUT, Node.RAW}, 0.1, 5000);

        // 3 % on voltages and 10 % on ripple are the dictionary's own tolerances; ours is tighter in the long suite
        assertEquals(outV, seen[0].meanV(), 0.03 * outV);
        assertEquals(rawV, seen[1].meanV(), 0.03 * rawV);
        assertEquals(rawRippleV, seen[1].rippleV(), 0.1 * rawRippleV);
    }

    @ParameterizedTest
    @EnumSource(Fault.class)
    void severityZeroIsHealthy(Fault fault) {
        Plant healthy = running("bench-12v", "", 0.5, 1);
        Plant none = running("bench-12v", fault.label() + ":0", 0.5, 1);

        assertEquals(healthy.voltageV(0, Node.OUTPUT), none.voltageV(0, Node.OUTPUT), 1e-6);
        assertEquals(healthy.voltageV(0, Node.RAW), none.voltageV(0, Node.RAW), 1e-6);
    }

    @Test
    void aFaultOnOneRailLeavesTheOthersAlmostAlone() {
        Plant healthy = running("counter-15v", "", 0.3, 1);
        Plant faulty = running("counter-15v", "reference-short@-15V", 0.3, 1);

        assertEquals(healthy.voltageV(0, Node.OUTPUT), faulty.voltageV(0, Node.OUTPUT), 0.05);
        assertTrue(Math.abs(faulty.voltageV(1, Node.OUTPUT)) < 3);
    }

    @Test
    void lowLineIsSeenAtTheInletAndAWrongTapIsNot() {
        assertEquals(0.85 * inletPeakV(""), inletPeakV("low-line"), 1e-3 * 115);
        assertEquals(inletPeakV(""), inletPeakV("wrong-transformer-tap"), 1e-9);
        assertTrue(running("bench-12v", "wrong-transformer-tap", 0.5, 1).voltageV(0, Node.RAW) > 22);
    }

    private static double inletPeakV(String fault) {
        return Observed.of(running("bench-12v", fault, 0.5, 1), 0, Node.LINE, 0.1, 6000)
                        .rippleV()
                / 2;
    }

    @Test
    void leakyReservoirLoadsTheRawSideOnly() {
        Plant healthy = running("tape-24v", "", 0.2, 1);
        Plant leaky = running("tape-24v", "leaky-reservoir:1", 0.2, 1);

        Observed healthyRaw = Observed.of(healthy, 0, Node.RAW, 0.1, 2000);
        Observed leakyRaw = Observed.of(leaky, 0, Node.RAW, 0.1, 2000);
        // 1 is about half the rated current on top of a fifth: ripple goes with the current
        assertTrue(leakyRaw.rippleV() > 2.5 * healthyRaw.rippleV(), "ripple " + leakyRaw.rippleV());
        assertEquals(healthy.voltageV(0, Node.OUTPUT), leaky.voltageV(0, Node.OUTPUT), 0.01 * 24);
    }

    @Test
    void crackedJointOpensHotAndClosesAgainCooler() {
        Plant plant = Bench.supplyWithSmallSink()
                .build(Surroundings.standard(1), List.of(PlacedFault.parse("cracked-joint:0.9")));
        plant.line(115, 60);
        plant.load(0, voltageV -> 2 * Math.min(1, voltageV / 0.6));
        int changes = 0;
        double hottestC = 0;
        boolean wasUp = false;
        while (plant.timeS() < 120) {
            plant.advanceTo(plant.timeS() + 0.1);
            boolean up = plant.voltageV(0, Node.OUTPUT) > 10;
            changes += up == wasUp ? 0 : 1;
            wasUp = up;
            hottestC = Math.max(hottestC, plant.heatSinkC(0));
        }

        // opens at 75 - 0.9 * 40 = 39 °C; healthy, 13 W into 2.2 K/W would end at 53 °C. Up, away, back, away:
        assertTrue(hottestC < 40, "hottest " + hottestC);
        assertTrue(changes >= 4, "came and went " + changes + " times");
    }

    @Test
    void noisyReferenceIsNoisyByItsSeed() {
        Observed quiet = Observed.of(running("bench-12v", "", 0, 1), 0, Node.OUTPUT, 1, 10_000);
        Observed noisy = Observed.of(running("bench-12v", "noisy-reference", 0, 1), 0, Node.OUTPUT, 1, 10_000);
        double onceV = running("bench-12v", "noisy-reference", 0, 7).voltageV(0, Node.OUTPUT);
        double againV = running("bench-12v", "noisy-reference", 0, 7).voltageV(0, Node.OUTPUT);
        double otherV = running("bench-12v", "noisy-reference", 0, 8).voltageV(0, Node.OUTPUT);

        // 0.5 % of 5.6 V, times the divider 4.2/2.2, is 53 mV rms; 600 independent values in a second: within 15 %
        assertEquals(0.053, noisy.acRmsV(), 0.15 * 0.053);
        assertTrue(quiet.acRmsV() < 1e-3);
        assertEquals(onceV, againV);
        assertNotEquals(onceV, otherV);
    }

    @Test
    void driftingReferencePullsTheOutputDown() {
        Plant plant = running("bench-12v", "drifting-reference:1", 0.5, 1);
        double startV = Observed.of(plant, 0, Node.OUTPUT, 0.1, 500).meanV();
        plant.advanceTo(30);
        double endV = Observed.of(plant, 0, Node.OUTPUT, 0.1, 500).meanV();

        // 4 % of 5.6 V times 4.2/2.2 times (1 - exp(-30/600)); warming moves the output by a few millivolts as well
        assertEquals(0.04 * 5.6 * 4.2 / 2.2 * (1 - Math.exp(-0.05)), startV - endV, 0.006);
    }

    @Test
    void intermittentPassTransistorDropsOutAndReturns() {
        Plant plant = running("bench-12v", "intermittent-pass-transistor:1", 1, 3);
        int drops = 0;
        boolean wasUp = true;
        while (plant.timeS() < 20) {
            plant.advanceTo(plant.timeS() + 2e-3);
            boolean up = plant.voltageV(0, Node.OUTPUT) > 6;
            drops += wasUp && !up ? 1 : 0;
            wasUp = up;
        }

        // mean 1 s good, 0.4 s bad: 14 in 20 s, Poisson spread about 4
        assertTrue(drops > 3 && drops < 27, "drops " + drops);
    }

    @Test
    void swollenOutputCapacitorDipsDeeperOnALoadStep() {
        assertTrue(dipV("swollen-output-capacitor") > 3 * dipV(""), dipV("swollen-output-capacitor") + " V");
    }

    private static double dipV(String fault) {
        Plant plant = running("bench-12v", fault, 0.25, 1);
        double beforeV = plant.voltageV(0, Node.OUTPUT);
        plant.load(0, voltageV -> 1.5 * Math.min(1, voltageV / 0.6));
        double leastV = beforeV;
        for (int i = 1; i <= 200; i++) {
            plant.advanceTo(0.5 + i * 0.5e-6);
            leastV = Math.min(leastV, plant.voltageV(0, Node.OUTPUT));
        }
        return beforeV - leastV;
    }

    @Test
    void oscillationRidesOnTheOutputUnderLoad() {
        Plant plant = running("bench-12v", "high-frequency-oscillation", 1, 1);
        double[] samplesV = new double[4000];
        for (int i = 0; i < samplesV.length; i++) {
            plant.advanceTo(0.5 + i * 2e-6);
            samplesV[i] = plant.voltageV(0, Node.OUTPUT);
        }
        double spreadV = Arrays.stream(samplesV).max().orElseThrow()
                - Arrays.stream(samplesV).min().orElseThrow();
        int crossings = 0;
        double meanV = Arrays.stream(samplesV).average().orElseThrow();
        for (int i = 1; i < samplesV.length; i++) {
            crossings += samplesV[i - 1] < meanV && samplesV[i] >= meanV ? 1 : 0;
        }

        // 0.5 is 2 % of 12 V peak to peak, plus up to 49 mV of ripple; 37.3 kHz over 8 ms
        assertTrue(spreadV > 0.24 && spreadV < 0.30, "spread " + spreadV);
        assertEquals(37_300 * 8e-3, crossings, 5);
        assertEquals(
                0,
                running("bench-12v", "high-frequency-oscillation", 0, 1).voltageV(0, Node.OUTPUT)
                        - running("bench-12v", "", 0, 1).voltageV(0, Node.OUTPUT),
                1e-9);
    }
}

package railproof.sim.supply;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.sim.LoadInput;
import railproof.sim.Node;
import railproof.sim.Plant;

/** Leaping over cycles that repeat themselves against integrating every one of them. */
class FastForwardTest {
    private static final double WARM_S = 120;

    private record Seen(double meanV, double rippleV, double sinkC) {}

    private static Plant loaded(Plant plant, UnitDesign design) {
        plant.line(design.nominalLineV(), design.nominalLineHz());
        plant.advanceTo(2);
        for (int rail = 0; rail < design.rails().size(); rail++) {
            double askedA = 0.9 * design.rails().get(rail).ratedA();
            plant.load(rail, volts -> Math.min(askedA, 10 * volts));
        }
        return plant;
    }

    private static Seen seen(Plant plant, int rail) {
        double fromS = plant.timeS();
        double lowV = Double.POSITIVE_INFINITY;
        double highV = Double.NEGATIVE_INFINITY;
        double sumV = 0;
        // a tenth of a second holds whole cycles of 50 Hz and of 60 Hz
        for (int i = 1; i <= 5000; i++) {
            plant.advanceTo(fromS + i * 0.1 / 5000);
            double volts = Math.abs(plant.voltageV(rail, Node.OUTPUT));
            lowV = Math.min(lowV, volts);
            highV = Math.max(highV, volts);
            sumV += volts;
        }
        return new Seen(sumV / 5000, highV - lowV, plant.heatSinkC(rail));
    }

    @ParameterizedTest
    @ValueSource(strings = {"counter-5v", "counter-175v", "tape-24v"})
    void leapingGivesWhatIntegratingEveryCycleGives(String name) {
        UnitDesign design = SimulatedUnits.named(name);
        Plant whole = loaded(design.build(Surroundings.standard(1)), design);
        Plant leapt = loaded(design.buildFastForward(Surroundings.standard(1), List.of()), design);

        int repeating = 0;
        whole.advanceTo(WARM_S);
        for (int i = 1; i <= 50 * (WARM_S - 2); i++) {
            leapt.advanceTo(2 + i * 0.02);
            repeating += leapt.repeating() ? 1 : 0;
        }

        Seen expected = seen(whole, 0);
        Seen found = seen(leapt, 0);
        double nominalV = design.rails().get(0).nominalV();
        // the integrator's own tolerance on the output is 5e-5 of nominal, on the reservoir 2e-4
        assertEquals(expected.meanV(), found.meanV(), 5e-5 * nominalV, name);
        assertEquals(expected.rippleV(), found.rippleV(), 0.01 * expected.rippleV() + 5e-5 * nominalV, name);
        assertEquals(expected.sinkC(), found.sinkC(), FastForwardPlant.SINK_STEP_K, name);
        assertTrue(repeating > 25 * (WARM_S - 2), name + " was leapt over for only " + repeating + " looks");
    }

    @ParameterizedTest
    @MethodSource("railproof.sim.supply.SimulatedUnits#names")
    void everyUnitRepeatsItselfSoonAfterAChangeAtWhateverPlaceOfTheCycle(String name) {
        UnitDesign design = SimulatedUnits.named(name);
        double cycleS = 1 / design.nominalLineHz();
        for (int place = 0; place < 7; place++) {
            Plant leapt = design.buildFastForward(Surroundings.standard(1), List.of());
            leapt.line(design.nominalLineV(), design.nominalLineHz());
            leapt.advanceTo(60 * cycleS + place * cycleS / 7);
            for (int rail = 0; rail < design.rails().size(); rail++) {
                double askedA = 0.9 * design.rails().get(rail).ratedA();
                leapt.connect(rail, new LoadInput(2e-6, 0.02, 0));
                leapt.load(rail, volts -> Math.min(askedA, 10 * volts));
            }
            double fromS = leapt.timeS();
            while (!leapt.repeating() && leapt.timeS() < fromS + 2) {
                leapt.advanceTo(leapt.timeS() + cycleS / 4);
            }
            // the units settle within 0.15 to 0.4 s; cycles in unequal steps differed for seconds, or for ever
            assertTrue(leapt.timeS() < fromS + 0.6, name + " integrated for " + (leapt.timeS() - fromS) + " s");
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"counter-5v", "tape-24v"})
    void aChangeOfLoadInTheMiddleOfALeapIsSeenAtOnce(String name) {
        UnitDesign design = SimulatedUnits.named(name);
        Plant leapt = loaded(design.buildFastForward(Surroundings.standard(1), List.of()), design);
        leapt.advanceTo(60);
        while (!leapt.repeating()) {
            leapt.advanceTo(leapt.timeS() + 0.01);
        }
        double loadedV = seen(leapt, 0).meanV();
        double atS = leapt.timeS();

        leapt.load(0, volts -> 0);

        assertFalse(leapt.repeating());
        assertEquals(atS, leapt.timeS(), 1e-9);
        assertEquals(0, leapt.currentA(0));
        leapt.advanceTo(atS + 2);
        assertTrue(seen(leapt, 0).meanV() > loadedV, "an unloaded rail stands higher");
    }

    @ParameterizedTest
    @ValueSource(strings = {"noisy-reference", "intermittent-pass-transistor"})
    void aFaultThatActsFastIsNotLeaptOver(String fault) {
        UnitDesign design = SimulatedUnits.named("tape-24v");
        PlacedFault placed = PlacedFault.parse(fault + ":1");
        Plant leapt = loaded(design.buildFastForward(Surroundings.standard(1), List.of(placed)), design);
        double lowV = Double.POSITIVE_INFINITY;
        double highV = Double.NEGATIVE_INFINITY;
        for (int i = 1; i <= 3000; i++) {
            leapt.advanceTo(4 + i * 0.005);
            double volts = leapt.voltageV(0, Node.OUTPUT);
            lowV = Math.min(lowV, volts);
            highV = Math.max(highV, volts);
        }
        // 1 % rms of the reference, or the rail going away: either is far more than the healthy rail's ripple, 0.04 V
        assertTrue(highV - lowV > 0.5, fault + " moved the output by only " + (highV - lowV) + " V");
    }
}

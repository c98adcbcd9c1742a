package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Expected values by hand from C dv/dt = −I and ESR = ΔV / ΔI. */
class DischargeTest {
    @Test
    void whatTheUnitDrawsItselfComesOutBeside() {
        // 4700 µF, 20 mA of its own: (I + 0.02) / 4.7e-3
        double[] loadsA = {0.5, 1, 2};
        double[] slopes = {-0.52 / 4.7e-3, -1.02 / 4.7e-3, -2.02 / 4.7e-3};

        Discharge found = Discharge.over(loadsA, slopes);

        assertEquals(4.7e-3, found.capacitance().value(), 1e-12);
        assertEquals(0.02, found.standing().value(), 1e-9);
        assertTrue(found.capacitance().standardU() < 1e-9);
    }

    @Test
    void scatterOfTheSlopesIsCarriedOn() {
        // slopes 100, 200 + 3, 300 V/s at 1, 2, 3 A: residuals -1, +2, -1, sd = sqrt 6, slope u = sqrt 3
        Discharge found = Discharge.over(new double[] {1, 2, 3}, new double[] {-100, -203, -300});

        assertEquals(0.01, found.capacitance().value(), 1e-12);
        assertEquals(0.01 * Math.sqrt(3) / 100, found.capacitance().standardU(), 1e-9);
        assertEquals(1, found.capacitance().randomDof());
        // the line is 101 - 100 at zero load: 0.01 A of its own; u there sqrt(6 (1/3 + 2.01² / 2)) / 100
        assertEquals(0.01, found.standing().value(), 1e-9);
        assertEquals(
                Math.sqrt(6 * (1 / 3.0 + 2.01 * 2.01 / 2)) / 100,
                found.standing().standardU(),
                1e-9);
    }

    @Test
    void refusesAReservoirThatFallsSlowerWithMoreLoad() {
        assertThrows(
                IllegalArgumentException.class,
                () -> Discharge.over(new double[] {1, 2, 3}, new double[] {-300, -200, -100}));
    }

    /** 1000 µF with 0.1 Ω, 1 A to 3 A at 5 ms: 1000 V/s, a drop of 0.2 V, 3000 V/s. */
    private static double[] stepped(double bendV) {
        double[] v = new double[500];
        for (int i = 0; i < v.length; i++) {
            double t = i / 50e3;
            v[i] = t < 5e-3 ? 30 - 1000 * t : 25 - 0.2 - 3000 * (t - 5e-3);
            v[i] += bendV * Math.pow((t - 5e-3) / 1e-3, 2);
        }
        return v;
    }

    @Test
    void stepGivesBoth() {
        ReservoirStep found = ReservoirStep.of(stepped(0), 50e3, new ReservoirStep.Step(5e-3, 0.1e-3, 1e-3, 1, 3));

        assertEquals(1e-3, found.capacitance().value(), 1e-9);
        assertEquals(0.1, found.seriesResistance().value(), 1e-9);
    }

    @Test
    void refusesStepsThatProveNothing() {
        ReservoirStep.Step step = new ReservoirStep.Step(5e-3, 0.1e-3, 1e-3, 1, 3);
        // a bend of 0.5 V over the millisecond on either side: something conducts
        assertThrows(IllegalArgumentException.class, () -> ReservoirStep.of(stepped(0.5), 50e3, step));
        // a voltage that rises
        double[] rising = stepped(0);
        for (int i = 0; i < rising.length; i++) {
            rising[i] = -rising[i];
        }
        assertThrows(IllegalArgumentException.class, () -> ReservoirStep.of(rising, 50e3, step));
        // no samples on one side
        assertThrows(
                IllegalArgumentException.class,
                () -> ReservoirStep.of(stepped(0), 50e3, new ReservoirStep.Step(9.95e-3, 0.1e-3, 1e-3, 1, 3)));
        assertThrows(IllegalArgumentException.class, () -> new ReservoirStep.Step(5e-3, 2e-3, 1e-3, 1, 3));
        assertThrows(IllegalArgumentException.class, () -> new ReservoirStep.Step(5e-3, 0, 1e-3, 3, 1));
    }
}

package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * Current limits, traced in the mode that can trace them, against ngspice on the same regulator. Asked of the
 * simulator are 2 % on knee and short-circuit current; it is held to 0.5 % (worst seen 0.06 %).
 */
@Tag("ngspice")
final class LimitAgainstNgspiceTest {
    private static final System.Logger LOG = System.getLogger(LimitAgainstNgspiceTest.class.getName());
    private static final double LIMIT_RATIO = 0.005;
    private static final double SETTLE_S = 0.05;
    /** Slope of our voltage load, against an ideal source in the reference: 0.5 mV at 5 A, 0.3 mA on these curves. */
    private static final double VOLTAGE_LOAD_OHM = 1e-4;

    private static void agree(String what, double expected, double ours, double ratio) {
        LOG.log(
                INFO,
                String.format(
                        Locale.ROOT,
                        "%s: ngspice %.6g, ours %.6g, %+.3f %%",
                        what,
                        expected,
                        ours,
                        100 * (ours / expected - 1)));
        assertEquals(expected, ours, ratio * Math.abs(expected), what);
    }

    /** Current into a voltage load that holds the output at {@code holdV}. */
    private static double currentAtA(UnitDesign design, double ambientC, double holdV) {
        Plant plant = design.build(new Surroundings(ambientC, 0, 0, 1));
        plant.load(0, voltageV -> Math.max(0, (voltageV - holdV) / VOLTAGE_LOAD_OHM));
        plant.line(design.nominalLineV(), design.nominalLineHz());
        plant.advanceTo(SETTLE_S);
        return plant.currentA(0);
    }

    @ParameterizedTest
    @ValueSource(doubles = {25, 50, 75})
    void constantCurrentLimitAgreesColdAndHot(double temperatureC) {
        Ngspice reference = Ngspice.run(
                "regulator.cir",
                Map.of(),
                Map.of(
                        "load",
                        "Vld out 0 12",
                        "analysis",
                        "set temp = " + temperatureC
                                + """

                                dc Vld 12.2 0 -0.02
                                meas dc amps_11_4 FIND i(Vld) AT=11.4
                                meas dc amps_6 FIND i(Vld) AT=6
                                meas dc amps_short FIND i(Vld) AT=0.02"""));

        UnitDesign design = Bench.regulator12V();

        agree("at 11.4 V", reference.value("amps_11_4"), currentAtA(design, temperatureC, 11.4), LIMIT_RATIO);
        agree("at 6 V", reference.value("amps_6"), currentAtA(design, temperatureC, 6), LIMIT_RATIO);
        agree("short", reference.value("amps_short"), currentAtA(design, temperatureC, 0.02), LIMIT_RATIO);
    }

    @Test
    void foldbackCurveAgreesWithAVoltageLoad() {
        double[] holdsV = {5, 4.5, 4, 3, 2, 1, 0.5, 0.1, 0.005};
        StringBuilder analysis = new StringBuilder("dc Vld 5.1 0 -0.005\nmeas dc amps_knee MAX i(Vld)\n");
        for (int i = 0; i < holdsV.length; i++) {
            analysis.append("meas dc amps_")
                    .append(i)
                    .append(" FIND i(Vld) AT=")
                    .append(holdsV[i])
                    .append('\n');
        }
        Ngspice reference = Ngspice.run(
                "foldback.cir",
                Map.of(),
                Map.of("source", "Vraw raw 0 12", "load", "Vld out 0 5", "analysis", analysis.toString()));

        UnitDesign design = Bench.foldback5V();

        for (int i = 0; i < holdsV.length; i++) {
            agree("at " + holdsV[i], reference.value("amps_" + i), currentAtA(design, 27, holdsV[i]), LIMIT_RATIO);
        }
        double kneeA = 0;
        for (double holdV = 5.1; holdV > 5; holdV -= 0.01) {
            kneeA = Math.max(kneeA, currentAtA(design, 27, holdV));
        }
        agree("knee", reference.value("amps_knee"), kneeA, LIMIT_RATIO);
    }

    @Test
    void foldbackCurveAgreesWithAResistiveLoadDownAndUp() {
        double[] loadsOhm = {2, 1.2, 1, 0.9, 0.7, 0.5, 0.2, 0.05};
        StringBuilder analysis = new StringBuilder("dc Vr 3 0.02 -0.01\n");
        for (int i = 0; i < loadsOhm.length; i++) {
            analysis.append("meas dc volts_")
                    .append(i)
                    .append(" FIND v(out) AT=")
                    .append(loadsOhm[i])
                    .append('\n');
        }
        Ngspice reference = Ngspice.run(
                "foldback.cir",
                Map.of(),
                Map.of(
                        "source", "Vraw raw 0 12",
                        "load", "Bl out 0 I = v(out)/v(r)\nVr r 0 2",
                        "analysis", analysis.toString()));
        Plant plant = Bench.start(Bench.foldback5V(), 12);

        for (int turn = 0; turn < 2 * loadsOhm.length; turn++) {
            int i = turn < loadsOhm.length ? turn : 2 * loadsOhm.length - 1 - turn;
            double loadOhm = loadsOhm[i];
            plant.load(0, voltageV -> voltageV / loadOhm);
            plant.advanceTo(plant.timeS() + 0.02);
            agree("at " + loadOhm, reference.value("volts_" + i), plant.voltageV(0, Node.OUTPUT), LIMIT_RATIO);
        }
    }

    @Test
    void constantCurrentLoadTripsLatchesAndRecoversWhereTheReferenceDoes() {
        Ngspice reference = Ngspice.run(
                "foldback.cir",
                Map.of(),
                Map.of(
                        "source",
                        "Vraw raw 0 12",
                        "load",
                        "Bl out 0 I = v(set)*min(1,max(0,v(out)/0.3))\nVset set 0 PWL(0 0 0.6 6 1.2 0)",
                        "analysis",
                        """
                        tran 50u 1.2 0 50u
                        meas tran trip_amps FIND v(set) WHEN v(out)=2.5 FALL=1
                        meas tran back_amps FIND v(set) WHEN v(out)=2.5 RISE=LAST
                        meas tran latched_volts FIND v(out) AT=0.9"""));
        Plant plant = Bench.start(Bench.foldback5V(), 12);
        plant.advanceTo(0.1);
        double startS = plant.timeS();
        double tripA = 0;
        double backA = 0;
        double latchedV = 0;
        double beforeV = plant.voltageV(0, Node.OUTPUT);
        for (int step = 1; step <= 2400; step++) {
            double setA = 6 * (1 - Math.abs(step / 1200.0 - 1));
            plant.load(0, voltageV -> setA * Math.min(1, Math.max(0, voltageV / 0.3)));
            plant.advanceTo(startS + step * 0.5e-3);
            double nowV = plant.voltageV(0, Node.OUTPUT);
            if (beforeV > 2.5 && nowV <= 2.5) {
                tripA = setA;
            } else if (beforeV < 2.5 && nowV >= 2.5) {
                backA = setA;
            }
            if (step == 1800) {
                latchedV = nowV;
            }
            beforeV = nowV;
        }

        agree("trip", reference.value("trip_amps"), tripA, LIMIT_RATIO);
        agree("recovery", reference.value("back_amps"), backA, LIMIT_RATIO);
        agree("latched at", reference.value("latched_volts"), latchedV, LIMIT_RATIO);
    }

    @Test
    void startsIntoAResistorButNotIntoTheSameConstantCurrent() {
        String ramp = "Vraw raw 0 PWL(0 0 10m 0 60m 12)";
        String analysis = "tran 50u 0.3 0 50u\nmeas tran end_volts FIND v(out) AT=0.29";
        Ngspice currentReference = Ngspice.run(
                "foldback.cir",
                Map.of(),
                Map.of("source", ramp, "load", "Bl out 0 I = 3*min(1,max(0,v(out)/0.3))", "analysis", analysis));
        Ngspice resistorReference = Ngspice.run(
                "foldback.cir", Map.of(), Map.of("source", ramp, "load", "Rl out 0 1.6667", "analysis", analysis));

        Plant intoCurrent = started(voltageV -> 3 * Math.min(1, voltageV / 0.3));
        Plant intoResistor = started(voltageV -> voltageV / 1.6667);

        agree("into 3 A", currentReference.value("end_volts"), intoCurrent.voltageV(0, Node.OUTPUT), LIMIT_RATIO);
        agree("into 1.67 Ω", resistorReference.value("end_volts"), intoResistor.voltageV(0, Node.OUTPUT), LIMIT_RATIO);
        assertTrue(intoCurrent.voltageV(0, Node.OUTPUT) < 0.3);
        assertTrue(intoResistor.voltageV(0, Node.OUTPUT) > 5);
    }

    private static Plant started(railproof.sim.LoadCharacteristic load) {
        Plant plant = Bench.foldback5V().build(Bench.AT_27_C);
        plant.load(0, load);
        plant.advanceTo(0.01);
        rampUp(plant, 12);
        plant.advanceTo(0.29);
        return plant;
    }

    /** Raises the direct voltage from nothing within 50 ms, as the reference does: a sudden rise has an inrush. */
    private static void rampUp(Plant plant, double finalV) {
        double startS = plant.timeS();
        for (int step = 1; step <= 100; step++) {
            plant.line(finalV * step / 100, 50);
            plant.advanceTo(startS + step * 0.5e-3);
        }
    }

    @Test
    void latchingTripAgrees() {
        Ngspice reference = Ngspice.run(
                "latching.cir",
                Map.of(),
                Map.of(
                        "source",
                        "Vraw raw 0 PWL(0 20 1.0 20 1.02 0 1.3 0 1.35 20)",
                        "load",
                        "Bload out 0 I = v(ramp)*min(1,max(0,v(out)/0.3))\nVramp ramp 0 PWL(0 0 0.4 3.5 0.8 0)",
                        "analysis",
                        """
                        tran 20u 1.6 0 20u
                        meas tran trip_amps FIND v(ramp) WHEN v(out)=6 FALL=1
                        meas tran latched_volts FIND v(out) AT=0.95
                        meas tran cycled_volts FIND v(out) AT=1.55"""));
        Plant plant = Bench.latching12V().build(Bench.AT_27_C);
        // the reference starts from its operating point with no load; so do we, after settling
        rampUp(plant, 20);
        plant.advanceTo(0.1);
        double startS = plant.timeS();
        double tripA = 0;
        for (int step = 1; step <= 1600; step++) {
            double setA = 3.5 * (1 - Math.abs(step / 800.0 - 1));
            plant.load(0, voltageV -> setA * Math.min(1, Math.max(0, voltageV / 0.3)));
            plant.advanceTo(startS + step * 0.5e-3);
            if (tripA == 0 && plant.voltageV(0, Node.OUTPUT) < 6) {
                tripA = setA;
            }
        }
        plant.advanceTo(startS + 0.95);
        double latchedV = plant.voltageV(0, Node.OUTPUT);
        plant.line(0, 50);
        plant.advanceTo(startS + 1.3);
        rampUp(plant, 20);
        plant.advanceTo(startS + 1.55);

        agree("trip", reference.value("trip_amps"), tripA, LIMIT_RATIO);
        agree("back", reference.value("cycled_volts"), plant.voltageV(0, Node.OUTPUT), LIMIT_RATIO);
        // a saturated thyristor's rest voltage, 0.2 V: 1 % for the reference's tolerance of 1e-4 on 20 V nodes
        agree("latched", reference.value("latched_volts"), latchedV, 0.01);
    }

    @Test
    void highVoltageRailAgrees() {
        StringBuilder analysis = new StringBuilder();
        List<Double> loadsA = List.of(0.0, 0.005, 0.025, 0.05);
        for (double loadA : loadsA) {
            analysis.append("alter Iload dc = ").append(loadA).append("\nop\nprint v(out) v(base) v(ref)\n");
        }
        Ngspice statics = Ngspice.run(
                "highvoltage.cir", Map.of(), Map.of("load", "Iload out 0 0", "analysis", analysis.toString()));
        Ngspice limit = Ngspice.run(
                "highvoltage.cir",
                Map.of(),
                Map.of(
                        "load",
                        "Vld out 0 190",
                        "analysis",
                        "dc Vld 192 0 -0.2\nmeas dc amps_180 FIND i(Vld) AT=180\n"
                                .concat("meas dc amps_95 FIND i(Vld) AT=95\nmeas dc amps_short FIND i(Vld) AT=0.2")));
        UnitDesign design = Bench.regulator190V();
        Plant plant = Bench.start(design, 240);

        for (int i = 0; i < loadsA.size(); i++) {
            double loadA = loadsA.get(i);
            plant.load(0, voltageV -> loadA * Math.min(1, voltageV / 5));
            plant.advanceTo(plant.timeS() + 0.5);
            agree("out", statics.all("v(out)").get(i), plant.voltageV(0, Node.OUTPUT), 0.001);
            agree("base", statics.all("v(base)").get(i), plant.voltageV(0, Node.BASE), 0.001);
            agree("ref", statics.all("v(ref)").get(i), plant.voltageV(0, Node.REFERENCE), 0.001);
        }
        agree("at 180 V", limit.value("amps_180"), currentAtA(design, 27, 180), LIMIT_RATIO);
        agree("at 95 V", limit.value("amps_95"), currentAtA(design, 27, 95), LIMIT_RATIO);
        agree("short", limit.value("amps_short"), currentAtA(design, 27, 0.2), LIMIT_RATIO);
    }
}

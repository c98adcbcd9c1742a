package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.sim.LoadInput;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * What happens within milliseconds after a load changes or is connected, against ngspice on the same regulator.
 *
 * <p>Asked of the simulator is the recovery time within 5 %. It is held to 3 %, and so are dips and overshoots (worst
 * seen 1.9 %): junction capacitances are constants here and follow the voltage there, and a load's slew is a staircase
 * of {@link #SLEW_TICKS} steps here. The reference gives the same recovery down to steps of 5 ns.
 */
@Tag("ngspice")
final class TransientsAgainstNgspiceTest {
    private static final System.Logger LOG = System.getLogger(TransientsAgainstNgspiceTest.class.getName());
    /** Steps into which a slew is cut here, and the shortest and longest of them, s: the output is looked at after each. */
    private static final int SLEW_TICKS = 50;

    private static final double SHORTEST_TICK_S = 10e-9;
    private static final double LONGEST_TICK_S = 0.125e-6;
    private static final double TRANSIENT_RATIO = 0.03;

    private static void agree(String what, double expected, double ours, double tolerance) {
        LOG.log(INFO, String.format(Locale.ROOT, "%s: ngspice %.6g, ours %.6g", what, expected, ours));
        assertEquals(expected, ours, tolerance, what);
    }

    /** One transient: extreme value after the start, final value, instant of the last entry into a band about it. */
    private record Seen(double extremeV, double finalV, double recoveryS) {}

    /** A load current that runs from one value to another in a straight line. */
    private record Slope(double fromA, double toA, double slewS) {
        double currentA(double sinceS) {
            return fromA + (toA - fromA) * Math.max(0, Math.min(1, sinceS / slewS));
        }
    }

    private static Seen follow(Plant plant, Slope slope, double spanS, double bandV) {
        double tickS = Math.max(SHORTEST_TICK_S, Math.min(LONGEST_TICK_S, slope.slewS() / SLEW_TICKS));
        int ticks = (int) Math.round(spanS / tickS);
        double startS = plant.timeS();
        double[] outV = new double[ticks];
        for (int tick = 0; tick < ticks; tick++) {
            double setA = slope.currentA((tick + 0.5) * tickS);
            if (tick * tickS <= slope.slewS() + tickS) {
                plant.load(0, voltageV -> setA * Math.min(1, voltageV));
            }
            plant.advanceTo(startS + (tick + 1) * tickS);
            outV[tick] = plant.voltageV(0, Node.OUTPUT);
        }
        return seen(outV, tickS, slope.toA() > slope.fromA(), bandV);
    }

    private static Seen seen(double[] outV, double tickS, boolean dips, double bandV) {
        double finalV = outV[outV.length - 1];
        double extremeV = finalV;
        int last = 0;
        for (int i = 0; i < outV.length; i++) {
            extremeV = dips ? Math.min(extremeV, outV[i]) : Math.max(extremeV, outV[i]);
            if (dips ? outV[i] < finalV - bandV : outV[i] > finalV + bandV) {
                last = i;
            }
        }
        double edgeV = dips ? finalV - bandV : finalV + bandV;
        double share = (edgeV - outV[last]) / (outV[last + 1] - outV[last]);
        return new Seen(extremeV, finalV, (last + 1 + share) * tickS);
    }

    @ParameterizedTest
    @CsvSource({
        // between, A; slew, µs; capacitance at the load's input, µF; band, mV
        "0.5, 1.5, 10, 0, 5",
        "0.5, 1.5, 100, 0, 0.5",
        "0.5, 1.5, 10, 10, 5",
        "0.5, 1.5, 100, 0.5, 0.5",
        "0.5, 1.5, 1, 0, 5",
        "0, 2, 1, 0, 5",
        "0, 2, 0.02, 0, 5"
    })
    void loadStepUpAndDownRecoversWhenTheReferenceDoes(
            double lowA, double highA, double slewUs, double inputUf, double bandMv) {
        double bandV = bandMv * 1e-3;
        double slewS = slewUs * 1e-6;
        String load = String.format(
                        Locale.ROOT,
                        "Iload out 0 PWL(0 %2$s 1m %2$s {1m+%1$.9f} %3$s 3m %3$s {3m+%1$.9f} %2$s)",
                        slewS,
                        lowA,
                        highA)
                + (inputUf > 0 ? "\nRlead out li 20m\nCin li 0 " + inputUf + "u" : "");
        Ngspice reference = Ngspice.run(
                "regulator.cir",
                Map.of(),
                Map.of(
                        "load",
                        load,
                        "analysis",
                        """
                        tran %2$su 5m 0 %2$su
                        meas tran before_volts FIND v(out) AT=0.99m
                        meas tran after_volts FIND v(out) AT=2.95m
                        meas tran end_volts FIND v(out) AT=4.95m
                        meas tran least_volts MIN v(out) from=1m to=2.9m
                        meas tran most_volts MAX v(out) from=3m to=4.9m
                        let low=after_volts-%1$sm
                        let high=end_volts+%1$sm
                        meas tran dip_s WHEN v(out)=low RISE=LAST from=1m to=2.9m
                        meas tran rise_s WHEN v(out)=high FALL=LAST from=3m to=4.9m"""
                                .formatted(bandMv, slewUs > 1 ? "0.1" : "0.02")));
        Plant plant = Bench.start(Bench.regulator12V(), 20);
        if (inputUf > 0) {
            plant.connect(0, new LoadInput(inputUf * 1e-6, 0.02, 0));
        }
        plant.load(0, voltageV -> lowA * Math.min(1, voltageV));
        plant.advanceTo(0.1);
        double beforeV = plant.voltageV(0, Node.OUTPUT);

        Seen down = follow(plant, new Slope(lowA, highA, slewS), 1.95e-3, bandV);
        plant.advanceTo(0.102);
        Seen up = follow(plant, new Slope(highA, lowA, slewS), 1.95e-3, bandV);

        agree("before", reference.value("before_volts"), beforeV, 2e-4 * 12);
        agree("loaded", reference.value("after_volts"), down.finalV(), 2e-4 * 12);
        double dipV = reference.value("after_volts") - reference.value("least_volts");
        double riseV = reference.value("most_volts") - reference.value("end_volts");
        double dipS = reference.value("dip_s") - 1e-3;
        double riseS = reference.value("rise_s") - 3e-3;
        agree("dip", dipV, down.finalV() - down.extremeV(), TRANSIENT_RATIO * dipV);
        agree("overshoot", riseV, up.extremeV() - up.finalV(), TRANSIENT_RATIO * riseV);
        agree("recovery from the dip", dipS, down.recoveryS(), TRANSIENT_RATIO * dipS);
        agree("recovery from the overshoot", riseS, up.recoveryS(), TRANSIENT_RATIO * riseS);
    }

    @ParameterizedTest
    @CsvSource({"47, 0.05", "4.7, 0.02"})
    void connectingALoadsInputCapacitorIsTheSameInrush(double inputUf, double leadOhm) {
        String load =
                """
                Iload out 0 1
                Sclose out li ctl 0 closer
                .model closer SW(VT=0.5 VH=0 RON=%s ROFF=1e9)
                Vctl ctl 0 PWL(0 0 1m 0 1.00001m 1)
                Cin li 0 %su IC=0
                Rin li 0 500k"""
                        .formatted(leadOhm, inputUf);
        Ngspice reference = Ngspice.run(
                "regulator.cir",
                Map.of(),
                Map.of(
                        "load",
                        load,
                        "analysis",
                        """
                        tran 0.02u 2m 0 0.02u
                        meas tran before_volts FIND v(out) AT=0.99m
                        meas tran out_1 FIND v(out) AT=1.001m
                        meas tran out_5 FIND v(out) AT=1.005m
                        meas tran out_20 FIND v(out) AT=1.02m
                        meas tran out_60 FIND v(out) AT=1.06m
                        meas tran in_1 FIND v(li) AT=1.001m
                        meas tran in_5 FIND v(li) AT=1.005m
                        meas tran in_20 FIND v(li) AT=1.02m
                        meas tran in_60 FIND v(li) AT=1.06m
                        meas tran out_900 FIND v(out) AT=1.9m"""));
        Plant plant = Bench.start(Bench.regulator12V(), 20);
        plant.load(0, voltageV -> Math.min(1, voltageV));
        plant.advanceTo(0.1);
        double startS = plant.timeS() - 1e-8;
        agree("before", reference.value("before_volts"), plant.voltageV(0, Node.OUTPUT), 2e-4 * 12);

        plant.connect(0, new LoadInput(inputUf * 1e-6, leadOhm, 0));

        for (int afterUs : List.of(1, 5, 20, 60)) {
            plant.advanceTo(startS + afterUs * 1e-6);
            // the inrush is of 12 V: 1.5 % of it, with the regulator's answer (5 % of a fifth of it) inside
            agree("output", reference.value("out_" + afterUs), plant.voltageV(0, Node.OUTPUT), 0.015 * 12);
            agree("input", reference.value("in_" + afterUs), plant.inputV(0), 0.015 * 12);
        }
        plant.advanceTo(startS + 900e-6);
        agree("later", reference.value("out_900"), plant.voltageV(0, Node.OUTPUT), 2e-4 * 12);
    }

    /** Both at once: the line comes on with the load connected, from empty capacitors. */
    @ParameterizedTest
    @CsvSource({"current, 2", "current, 0.5", "resistance, 6.5", "resistance, 24"})
    void startUpOfTheWholeSupplyIntoALoadFollowsTheReference(String mode, double level) {
        boolean resistance = mode.equals("resistance");
        Ngspice reference = Ngspice.run(
                "supply.cir",
                resistance
                        ? Map.of("amps", "0", "loadohm", String.valueOf(level))
                        : Map.of("amps", String.valueOf(level)),
                Map.of(
                        "start",
                        "0",
                        "stop",
                        "0.2",
                        "extra",
                        """
                        meas tran half_s WHEN v(out)=6 RISE=1
                        meas tran up_s WHEN v(out)=11.5 RISE=1
                        meas tran raw_top MAX v(raw) from=0 to=0.05
                        meas tran out_top MAX v(out) from=0 to=0.05
                        meas tran end_volts AVG v(out) from=0.15 to=0.2"""));
        Plant plant = Bench.start(Bench.supply(), 115);
        plant.load(0, voltageV -> resistance ? voltageV / level : level * Math.min(1, voltageV / 0.6));
        double halfS = 0;
        double upS = 0;
        double rawTopV = 0;
        double outTopV = 0;
        for (int i = 1; i <= 25_000; i++) {
            plant.advanceTo(i * 2e-6);
            double outV = plant.voltageV(0, Node.OUTPUT);
            halfS = halfS == 0 && outV >= 6 ? plant.timeS() : halfS;
            upS = upS == 0 && outV >= 11.5 ? plant.timeS() : upS;
            rawTopV = Math.max(rawTopV, plant.voltageV(0, Node.RAW));
            outTopV = Math.max(outTopV, outV);
        }
        plant.advanceTo(0.15);
        double endV = Observed.of(plant, 0, Node.OUTPUT, 0.05, 2500).meanV();

        // 5 % of the time, and the reference's steps of 20 µs
        agree("to 6 V", reference.value("half_s"), halfS, TRANSIENT_RATIO * reference.value("half_s") + 2e-5);
        agree("to 11.5 V", reference.value("up_s"), upS, TRANSIENT_RATIO * reference.value("up_s") + 2e-5);
        agree("highest raw", reference.value("raw_top"), rawTopV, 0.01 * reference.value("raw_top"));
        agree("highest output", reference.value("out_top"), outTopV, 0.01 * reference.value("out_top"));
        agree("end", reference.value("end_volts"), endV, 0.003 * endV);
    }
}

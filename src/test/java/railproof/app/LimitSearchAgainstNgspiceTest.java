package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static railproof.app.AgainstNgspice.agree;
import static railproof.app.AgainstNgspice.judged;
import static railproof.app.AgainstNgspice.run;
import static railproof.app.SimulatedRun.value;

import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.sim.supply.Bench;
import railproof.sim.supply.Ngspice;

/**
 * What the search for the current limit finds, through links, protocols, board, load and judge, against ngspice on the
 * same circuit: knee and short-circuit current within 2 %. The units are the simulated bench's own supply and the foldback
 * and latching regulators behind the same kind of mains side, all with heat sinks that stay cold, because the reference has
 * no heat.
 */
@Tag("ngspice")
class LimitSearchAgainstNgspiceTest {
    private static final double LINE_HZ = 60;
    private static final double LIMIT_RATIO = 0.02;
    private static final double TIME_RATIO = 0.05;
    /** The bench's winding, bridge and reservoir, for the netlists of bare regulators. */
    private static final String MAINS =
            """
            Vwind w1 w2 SIN(0 %s 60)
            Rwind w1 wa %s
            Rstray w2 0 10meg
            Dp1 wa raw d_rect
            Dp2 w2 raw d_rect
            Dn1 0 wa d_rect
            Dn2 0 w2 d_rect
            Cres raw ci %s
            Rres ci 0 %s
            .options reltol=1e-4 method=gear""";
    /** A constant current that rises by half an ampere a second: in a line cycle by 8 mA. */
    private static final String RISING_LOAD =
            """
            Bl out 0 I = v(set)*min(1,max(0,v(out)/0.6))
            Vset set 0 PWL(0 0 0.3 0 0.4 %1$s 3.4 {%1$s+1.5})""";

    private static final double RISE_A_PER_S = 0.5;
    private static final double CYCLE_S = 1 / LINE_HZ;

    @TempDir
    private Path data = Path.of("");

    /** The current at which the mean output has fallen by 5 % from that without load, as the judge has it. */
    private static double kneeA(Ngspice reference, double startA) {
        Means output = Means.of(reference, 0);
        return startA + RISE_A_PER_S * (output.fallsBelowS(0.95 * output.at(0.29), 0.42) - 0.4);
    }

    /** The resistance into which the rail was nearest to a short, Ω. */
    private static double lowestOhm(SimulatedRun.Done done) {
        return done.points(Section.CURRENT_LIMIT).stream()
                .min(Comparator.comparingDouble(point -> value(point, Quantity.OUTPUT)))
                .map(LimitSearchAgainstNgspiceTest::ohm)
                .orElseThrow();
    }

    private static double ohm(Point point) {
        return value(point, Quantity.OUTPUT) / value(point, Quantity.LOAD_CURRENT);
    }

    @Test
    void aConstantCurrentLimitIsFoundWhereTheReferenceHasIt() throws Exception {
        SimulatedRun.Done done = run(data, Bench.supply(), "bench-12v", "load-sweep, current-limit");
        Ngspice knee = Ngspice.run(
                "supply.cir",
                Map.of("amps", "0", "stepamps", "2.2", "stepat", "0.35", "rampamps", "0.5", "rampat", "0.4"),
                Map.of("start", "0.2", "stop", "1.8", "extra", "linearize v(raw) v(out)\nwrdata waves.txt v(out)"));
        double shortOhm = lowestOhm(done);
        Ngspice shorted = Ngspice.run(
                "supply.cir",
                Map.of("amps", "0", "loadohm", String.valueOf(shortOhm)),
                Map.of("start", "0.3", "stop", "0.5", "extra", ""));
        Ngspice dead = Ngspice.run(
                "supply.cir",
                Map.of("amps", "0", "loadohm", "1e-3"),
                Map.of("start", "0.3", "stop", "0.5", "extra", ""));

        agree("knee", kneeA(knee, 2.2), judged(done, "current-limit"), LIMIT_RATIO);
        agree("nearly shorted", shorted.value("out_mean") / shortOhm, judged(done, "short-circuit"), LIMIT_RATIO);
        agree("dead short", dead.value("out_mean") / 1e-3, judged(done, "short-circuit"), LIMIT_RATIO);
        Point released = done.points(Section.CURRENT_LIMIT).stream()
                .filter(point -> point.note().equals("released"))
                .findFirst()
                .orElseThrow();
        letGoAgrees(done, released, shortOhm);
    }

    /** The overload taken off at the same phase of the line: when the output is back in its band. */
    private void letGoAgrees(SimulatedRun.Done done, Point released, double shortOhm) {
        double bandLowV = 11.7;
        double phase = LinePhase.linePhaseAtTheAnswer(done, released);
        double letGoS = 0.3 + phase * CYCLE_S;
        Ngspice reference = Ngspice.run(
                "supply.cir",
                Map.of("amps", "0", "loadohm", String.valueOf(shortOhm), "letgo", String.valueOf(letGoS)),
                Map.of(
                        "start",
                        "0.25",
                        "stop",
                        "0.5",
                        "extra",
                        "meas tran back_s WHEN v(out)=" + bandLowV + " RISE=1 from=" + letGoS + " to=0.5"));

        agree(
                "back after the overload",
                reference.value("back_s") - letGoS,
                value(released, Quantity.TRANSIENT_TIME),
                TIME_RATIO);
    }

    /** A foldback curve: between knee and short the output lies where no constant-current load can hold it. */
    @Test
    void aFoldbackLimitIsFoundWhereTheReferenceHasIt() throws Exception {
        SimulatedRun.Done done = run(
                data,
                Bench.foldbackSupply(11, 0.1, 22e-3, 0.015),
                "counter-5v",
                "load-sweep, current-limit",
                "rated_current_A = 8",
                "rated_current_A = 4",
                "max_probe_current_A = 12",
                "max_probe_current_A = 6",
                "current_limit_A = [9.2, 11.2]",
                "current_limit_A = [4.6, 5.6]",
                "short_circuit_A = [1.5, 6.5]",
                "short_circuit_A = [0.8, 3.4]");
        Ngspice knee = foldback(
                RISING_LOAD.formatted("4.5"), "tran 20u 1.9 0.2 20u uic\nlinearize v(out)\nwrdata waves.txt v(out)");
        double shortOhm = lowestOhm(done);

        agree("knee", kneeA(knee, 4.5), judged(done, "current-limit"), LIMIT_RATIO);
        agree("nearly shorted", foldbackIntoA(shortOhm), judged(done, "short-circuit"), LIMIT_RATIO);
        agree("dead short", foldbackIntoA(1e-3), judged(done, "short-circuit"), LIMIT_RATIO);
        for (Point point : done.points(Section.CURRENT_LIMIT)) {
            if (point.note().equals("traced")) {
                double ohm = ohm(point);
                agree("into " + ohm, foldbackIntoA(ohm), value(point, Quantity.LOAD_CURRENT), LIMIT_RATIO);
            }
        }
    }

    private static double foldbackIntoA(double ohm) {
        return foldback("Rl out 0 " + ohm, "tran 20u 0.3 0 20u uic\nmeas tran volts AVG v(out) from=0.2 to=0.3")
                        .value("volts")
                / ohm;
    }

    private static Ngspice foldback(String load, String analysis) {
        String source = MAINS.formatted(String.valueOf(11 * Math.sqrt(2)), "0.1", "22m", "15m");
        return Ngspice.run("foldback.cir", Map.of(), Map.of("source", source, "load", load, "analysis", analysis));
    }

    @Test
    void aLatchingLimitTripsWhereTheReferenceDoes() throws Exception {
        SimulatedRun.Done done = run(
                data,
                Bench.latchingSupply(),
                "bench-12v",
                "load-sweep, current-limit",
                "\"constant-current\"",
                "\"latching\"",
                "short_circuit_A = [2.2, 3.1]",
                "");
        Ngspice reference = Ngspice.run(
                "latching.cir",
                Map.of(),
                Map.of(
                        "source",
                        MAINS.formatted(String.valueOf(16.5 * Math.sqrt(2)), "0.3", "6800u", "30m")
                                + "\nRdis raw 0 330",
                        "load",
                        RISING_LOAD.formatted("2.2"),
                        "analysis",
                        "tran 20u 1.9 0.2 20u uic\nlinearize v(out)\nwrdata waves.txt v(out)"));

        agree("trip", kneeA(reference, 2.2), judged(done, "current-limit"), LIMIT_RATIO);
        List<Point> recovery = done.points(Section.RECOVERY);
        assertEquals(
                "back after the line was off for 5 s",
                recovery.get(recovery.size() - 1).note());
    }
}

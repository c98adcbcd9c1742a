package railproof.app;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.app.SimulatedRun.value;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.Measured;
import railproof.judge.Check;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.signal.LineEdge;
import railproof.sim.supply.Bench;
import railproof.sim.supply.Ngspice;
import railproof.sim.supply.UnitDesign;

/**
 * What the procedures find, through links, protocols, board, load and judge, against ngspice on the same circuit. The
 * units are the simulated bench's own supply and the foldback and latching regulators behind the same kind of mains
 * side, all with heat sinks that stay cold, because the reference has no heat.
 *
 * <p>Asked of the program: knee and short-circuit current within 2 %, recovery time within 5 %, drop-out line within
 * 1 %. Where a change begins at no set phase of the line, the phase is read from the record's own line trace and the
 * reference is begun at the same one. The load's lag (100 µs) is part of the reference: a load is what it is.
 */
@Tag("ngspice")
class ProceduresAgainstNgspiceTest {
    private static final System.Logger LOG = System.getLogger(ProceduresAgainstNgspiceTest.class.getName());
    private static final double LINE_HZ = 60;
    private static final double LIMIT_RATIO = 0.02;
    private static final double TIME_RATIO = 0.05;
    private static final double DROPOUT_RATIO = 0.01;
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
    /** A line that came on at a zero is seen this late: 2 % of the peak and a sample of 20 µs. */
    private static final double EDGE_CYCLES = 0.0045;

    @TempDir
    private Path data = Path.of("");

    private static void agree(String what, double expected, double found, double ratio) {
        LOG.log(
                INFO,
                String.format(
                        Locale.ROOT,
                        "%s: ngspice %.6g, found %.6g, %+.2f %%",
                        what,
                        expected,
                        found,
                        100 * (found / expected - 1)));
        assertEquals(expected, found, ratio * Math.abs(expected), what);
    }

    /** The procedures on a unit of that design; these heat sinks do not warm up, and the sweep is not looked at. */
    private SimulatedRun.Done run(UnitDesign design, String profile, String procedures, String... fromTo)
            throws Exception {
        String[] quick = {
            "limit_cool_down_s = 3", "limit_cool_down_s = 0.5",
            "load_fractions = [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1]", "load_fractions = [0, 1]"
        };
        String[] changes =
                Stream.concat(Arrays.stream(quick), Arrays.stream(fromTo)).toArray(String[]::new);
        SimulatedRun.Done done = SimulatedRun.to(profile, procedures, changes)
                .plant(shipped -> design.build(Bench.AT_27_C))
                .run(data);
        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        return done;
    }

    private static double judged(SimulatedRun.Done done, String check) {
        Check found = done.result().judgement().orElseThrow().checks().stream()
                .filter(one -> one.id().equals(check))
                .findFirst()
                .orElseThrow();
        return found.value().measured().map(Measured::value).orElseThrow(() -> new AssertionError(found.toString()));
    }

    /** The current at which the mean output has fallen by 5 % from that without load, as the judge has it. */
    private static double kneeA(Ngspice reference, double startA) {
        Means output = Means.of(reference, 0);
        return startA + RISE_A_PER_S * (output.fallsBelowS(0.95 * output.at(0.29), 0.42) - 0.4);
    }

    /** The resistance into which the rail was nearest to a short, Ω. */
    private static double lowestOhm(SimulatedRun.Done done) {
        return done.points(Section.CURRENT_LIMIT).stream()
                .min(Comparator.comparingDouble(point -> value(point, Quantity.OUTPUT)))
                .map(ProceduresAgainstNgspiceTest::ohm)
                .orElseThrow();
    }

    private static double ohm(Point point) {
        return value(point, Quantity.OUTPUT) / value(point, Quantity.LOAD_CURRENT);
    }

    @Test
    void aConstantCurrentLimitIsFoundWhereTheReferenceHasIt() throws Exception {
        SimulatedRun.Done done = run(Bench.supply(), "bench-12v", "load-sweep, current-limit");
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

    @Test
    void dropOutLineAndHoldUpAreThoseOfTheReference() throws Exception {
        SimulatedRun.Done done = run(
                Bench.supply(),
                "bench-12v",
                "dropout-line, hold-up",
                "[rails.limits]\n",
                "[rails.limits]\nhold_up_min_ms = 5\n");

        dropOutAgrees(done);
        holdUpAgrees(done);
    }

    /** At four phases of the line, a seventh of a cycle apart: where it comes on decides when the reservoir is full. */
    @ParameterizedTest
    @ValueSource(doubles = {5, 5.0024, 5.0048, 5.0072})
    void startUpIntoAResistanceAndIntoAConstantCurrentIsThatOfTheReference(double offS) throws Exception {
        List<WatchedPlant> watched = new ArrayList<>();
        SimulatedRun.Done done = SimulatedRun.to(
                        "bench-12v",
                        "start-up",
                        "[[rails]]\n",
                        "[plan.start_up]\noff_s = " + offS + "\nrecord_ms = 200\n\n[[rails]]\n")
                .plant(shipped -> {
                    watched.add(new WatchedPlant(Bench.supply().build(Bench.AT_27_C), 0));
                    return watched.get(0);
                })
                .run(data);

        List<Point> starts = done.points(Section.START_UP);
        // the line came on for the first time before the check without load
        startUpAgrees(done, starts.get(0), watched.get(0).chargedV.get(1), Map.of("amps", "0", "loadohm", "6"));
        startUpAgrees(done, starts.get(1), watched.get(0).chargedV.get(2), Map.of("amps", "2", "grip", "0.06"));
    }

    private static void dropOutAgrees(SimulatedRun.Done done) {
        List<Point> search = done.points(Section.DROPOUT_LINE);
        // the line falls by 10 % of nominal a second, by a sixth of a percent within a cycle
        Ngspice reference = Ngspice.run(
                "supply.cir",
                Map.of("amps", "2", "sagpers", "0.1", "sagat", "0.5"),
                Map.of("start", "0.4", "stop", "3.5", "extra", "linearize v(raw) v(out)\nwrdata waves.txt v(out)"));
        Means output = Means.of(reference, 0);
        double fellS = output.fallsBelowS(0.98 * output.at(0.49), 0.5);

        agree(
                "drop-out line",
                115 * (1 - 0.1 * (fellS - 0.5)),
                value(search.get(search.size() - 1), Quantity.LINE),
                DROPOUT_RATIO);
    }

    /** Each line off against the reference at its own phase, and the judged worst against that of all phases. */
    private static void holdUpAgrees(SimulatedRun.Done done) {
        List<Point> points = done.points(Section.HOLD_UP);
        assertEquals(6, points.size());
        for (Point point : points) {
            Waveform waveform = LinePhase.waveform(done, point);
            int off = LineEdge.off(LinePhase.trace(waveform, "line_V"), waveform.rateHz(), LINE_HZ)
                    .orElseThrow()
                    .index();
            double phase = LinePhase.linePhase(waveform, off, true);
            assertEquals(phase, value(point, Quantity.LINE_PHASE), 0.002);
            agree("hold-up", referenceHoldUpS(phase), value(point, Quantity.TRANSIENT_TIME), TIME_RATIO);
        }
        double leastS = Double.POSITIVE_INFINITY;
        for (int i = 0; i < 25; i++) {
            leastS = Math.min(leastS, referenceHoldUpS(i / 50.0));
        }
        Check worst = done.result().judgement().orElseThrow().checks().stream()
                .filter(check -> check.id().equals("hold-up"))
                .findFirst()
                .orElseThrow();
        double judgedS = worst.value().measured().orElseThrow().value();
        String words = "least hold-up of all phases: ngspice " + leastS + " s, judged " + judgedS + " s ± "
                + worst.expandedU() + " s; " + worst.detail();
        LOG.log(INFO, words);
        // the reference is tried every 0.33 ms
        assertTrue(Math.abs(leastS - judgedS) < worst.expandedU() + 0.33e-3 + TIME_RATIO * leastS, words);
    }

    private static double referenceHoldUpS(double phase) {
        double offS = 0.6 + phase * CYCLE_S;
        Ngspice reference = Ngspice.run(
                "supply.cir",
                Map.of("amps", "2", "off", String.valueOf(offS)),
                Map.of(
                        "start",
                        "0.58",
                        "stop",
                        "1.0",
                        "extra",
                        "meas tran down_s WHEN v(out)=11.7 FALL=1 from=" + offS + " to=1.0"));

        return reference.value("down_s") - offS;
    }

    /**
     * Half a percent of voltage, which model and reference may differ by, is some time; and the phase is known to the
     * sample and to the 2 % of the peak below which a line is none. Where the output just reaches its band in one half
     * cycle, or just not before the next, that phase decides which: so the reference is begun a little earlier too.
     */
    private static void startUpAgrees(SimulatedRun.Done done, Point point, double chargedV, Map<String, String> load) {
        Waveform waveform = LinePhase.waveform(done, point);
        int on = LineEdge.on(LinePhase.trace(waveform, "line_V"), waveform.rateHz(), LINE_HZ)
                .orElseThrow()
                .index();
        double phase = LinePhase.linePhase(waveform, on, false);
        double upS = value(point, Quantity.TRANSIENT_TIME);
        boolean agrees = false;
        StringBuilder words = new StringBuilder();
        for (double earlier : new double[] {0, EDGE_CYCLES, EDGE_CYCLES / 2}) {
            Map<String, String> parameters = new HashMap<>(load);
            parameters.put("phase", String.valueOf(phase - earlier));
            parameters.put("charged", String.valueOf(chargedV));
            Ngspice reference = Ngspice.run(
                    "supply.cir",
                    parameters,
                    Map.of(
                            "start",
                            "0",
                            "stop",
                            "0.2",
                            "extra",
                            """
                            meas tran up_s WHEN v(out)=11.7 RISE=LAST from=0 to=0.2
                            meas tran early_s WHEN v(out)=11.64 RISE=LAST from=0 to=0.2
                            meas tran late_s WHEN v(out)=11.76 RISE=LAST from=0 to=0.2
                            """));
            double earlyS = reference.value("early_s");
            double lateS = reference.value("late_s");
            words.append(String.format(
                    Locale.ROOT,
                    "start-up %s at phase %.4f: ngspice %.6g (11.64 V at %.6g, 11.76 V at %.6g), found %.6g%n",
                    point.note(),
                    phase - earlier,
                    reference.value("up_s"),
                    earlyS,
                    lateS,
                    upS));
            agrees = upS >= earlyS * (1 - TIME_RATIO) && upS <= lateS * (1 + TIME_RATIO);
            if (agrees) {
                break;
            }
        }
        LOG.log(INFO, words.toString());
        assertTrue(agrees, words::toString);
    }

    @Test
    void aSlowLoopRecoversFromALoadStepWhenTheReferenceDoes() throws Exception {
        SimulatedRun.Done done = run(Bench.supplyWithSlowLoop(470e-9), "bench-12v", "load-step");

        List<Point> steps = done.points(Section.LOAD_STEP);
        assertEquals(1.8, value(steps.get(0), Quantity.LOAD_CURRENT), 0.01);
        assertEquals(0.2, value(steps.get(1), Quantity.LOAD_CURRENT), 0.01);
        stepAgrees(done, steps.get(0), 0.2, 1.6);
        stepAgrees(done, steps.get(1), 1.8, -1.6);
    }

    private static void stepAgrees(SimulatedRun.Done done, Point point, double fromA, double byA) {
        double stepS = 0.6 + LinePhase.linePhaseAtTheAnswer(done, point) * CYCLE_S;
        Ngspice reference = Ngspice.run(
                "supply.cir",
                Map.of(
                        "comp", "470n",
                        "amps", String.valueOf(fromA),
                        "stepamps", String.valueOf(byA),
                        "stepat", String.valueOf(stepS),
                        "steptau", "100u"),
                Map.of("start", "0.55", "stop", "0.75", "extra", "linearize v(raw) v(out)\nwrdata waves.txt v(out)"));
        double[] atS = reference.instantsS();
        double[] outV = reference.wave(0);
        double finalV = Means.of(reference, 0).at(stepS + 0.1);
        double backS = 0;
        double farthestV = 0;
        for (int i = 0; i < outV.length; i++) {
            if (atS[i] > stepS && atS[i] < stepS + 0.1) {
                double off = Math.signum(byA) * (finalV - outV[i]);
                farthestV = Math.max(farthestV, off);
                backS = Math.abs(outV[i] - finalV) > 0.12 ? atS[i] - stepS : backS;
            }
        }

        agree("recovery " + point.note(), backS, value(point, Quantity.TRANSIENT_TIME), TIME_RATIO);
        agree(
                "excursion " + point.note(),
                farthestV,
                value(point, byA > 0 ? Quantity.UNDERSHOOT : Quantity.OVERSHOOT),
                TIME_RATIO);
    }
}

package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * The other ways to build a supply, as whole circuits against ngspice: half-wave rectifier with a single pass transistor
 * and no limit; two centre-tapped windings on one transformer. Tolerances as in {@link SupplyAgainstNgspiceTest}.
 */
@Tag("ngspice")
final class UnitsAgainstNgspiceTest {
    private static final System.Logger LOG = System.getLogger(UnitsAgainstNgspiceTest.class.getName());
    private static final double START_S = 0.6;
    private static final double STOP_S = 1.0;
    private static final int SAMPLES = 20_000;
    private static final double MEAN_RATIO = 0.003;

    private static Observed[] watched(Plant plant, int rail) {
        plant.advanceTo(START_S);
        return Observed.of(plant, rail, SupplyAgainstNgspiceTest.NODES, STOP_S - START_S, SAMPLES);
    }

    private static void agree(String what, double expected, double ours, double ratio) {
        LOG.log(INFO, String.format(Locale.ROOT, "%s: ngspice %.6g, ours %.6g", what, expected, ours));
        assertEquals(expected, ours, ratio * Math.abs(expected), what);
    }

    @ParameterizedTest
    @CsvSource({
        "0.85, 0",
        "0.85, 0.25",
        "0.85, 0.5",
        "1, 0",
        "1, 0.05",
        "1, 0.25",
        "1, 0.5",
        "1.15, 0",
        "1.15, 0.25",
        "1.15, 0.5"
    })
    void halfWaveAndSinglePassTransistorAgreeOverLoadAndLine(double lineRatio, double loadA) {
        Ngspice reference = Ngspice.run(
                "lamp.cir",
                Map.of("secondary", String.valueOf(10.5 * lineRatio), "amps", String.valueOf(loadA)),
                Map.of());
        Plant plant = Bench.cold("tape-6v").build(Bench.AT_27_C);
        plant.line(230 * lineRatio, 50);
        plant.load(0, voltageV -> loadA * Math.min(1, voltageV / 0.3));

        Observed[] ours = watched(plant, 0);

        SupplyAgainstNgspiceTest.compare(reference, ours);
        SupplyAgainstNgspiceTest.harmonicsAgree(reference, ours, 1, 20);
    }

    @ParameterizedTest
    @ValueSource(doubles = {6, 4, 2, 0.5, 0.05})
    void withoutALimitOnlyDriveAndGainSetTheCurrentDownToAShort(double loadOhm) {
        Ngspice reference = Ngspice.run("lamp.cir", Map.of("amps", "0", "loadohm", String.valueOf(loadOhm)), Map.of());
        Plant plant = Bench.cold("tape-6v").build(Bench.AT_27_C);
        plant.line(230, 50);
        plant.load(0, voltageV -> voltageV / loadOhm);

        Observed[] ours = watched(plant, 0);

        SupplyAgainstNgspiceTest.compare(reference, ours);
        assertTrue(loadOhm > 1 || ours[1].meanV() / loadOhm > 3 * 0.5, "three times the rating and no limit");
    }

    @ParameterizedTest
    @CsvSource({
        // line; load of the rail watched, A; load of the other, A
        "0.85, 1, 1",
        "0.85, 0.3, 0",
        "1, 0, 0",
        "1, 0.5, 0",
        "1, 0.5, 1",
        "1, 1, 0.5",
        "1.15, 0, 1",
        "1.15, 1, 1"
    })
    void twoCentreTappedRailsOnOneTransformerAgreeAndDrawEachOtherDown(double lineRatio, double loadA, double otherA) {
        Ngspice reference = Ngspice.run(
                "pair.cir",
                Map.of(
                        "volts",
                        String.valueOf(115 * lineRatio),
                        "amps",
                        String.valueOf(loadA),
                        "otheramps",
                        String.valueOf(otherA)),
                Map.of());
        Plant plant = Bench.cold("counter-15v").build(Bench.AT_27_C);
        plant.line(115 * lineRatio, 60);
        plant.load(0, voltageV -> loadA * Math.min(1, voltageV / 0.6));
        plant.load(1, voltageV -> otherA * Math.min(1, voltageV / 0.6));
        plant.advanceTo(START_S);

        Observed[] ours = watched(plant, 0);

        SupplyAgainstNgspiceTest.compare(reference, ours);
        SupplyAgainstNgspiceTest.harmonicsAgree(reference, ours, 2, 24);
        Observed other = Observed.of(plant, 1, Node.RAW, 0.1, 5000);
        agree("raw of the other", reference.value("oraw_mean"), -other.meanV(), MEAN_RATIO);
        agree("the other", reference.value("oout_mean"), -plant.voltageV(1, Node.OUTPUT), 0.01);
        double magnetisingA = 0.04 * lineRatio;
        // in quadrature, and not in the reference
        double loadedA = Math.sqrt(plant.lineCurrentA() * plant.lineCurrentA() - magnetisingA * magnetisingA);
        agree("line current", reference.value("line_rms"), loadedA, 0.02);
    }
}

package railproof.sim.supply;

import java.util.List;
import railproof.sim.Plant;
import railproof.sim.supply.LimiterDesign.ConstantCurrent;
import railproof.sim.supply.LimiterDesign.Foldback;
import railproof.sim.supply.LimiterDesign.Latching;

/**
 * The circuits of the reference netlists as units of ours, at 27 °C (the nominal temperature of the reference
 * simulator) and with a heat sink that does not warm up, because the reference has no heat.
 */
public final class Bench {
    public static final Surroundings AT_27_C = new Surroundings(27, 0, 0, 1);
    private static final ThermalDesign COLD = new ThermalDesign(1e-6, 1, 0);

    private Bench() {}

    /** bench-12v with an ideal heat sink. */
    public static UnitDesign supply() {
        return onMains(SimulatedUnits.named("bench-12v").rails().get(0));
    }

    /** The same with a compensation capacitor that makes its loop slow: answers to a step take milliseconds. */
    public static UnitDesign supplyWithSlowLoop(double compensationF) {
        RailDesign rail = SimulatedUnits.named("bench-12v").rails().get(0);
        AmplifierDesign quick = rail.amplifier();
        AmplifierDesign slow = new AmplifierDesign(quick.error(), quick.upperOhm(), quick.lowerOhm(), compensationF);
        return onMains(changed(rail, rail.rectifier(), rail.reservoir(), slow));
    }

    /** The foldback board behind a winding, a bridge and a reservoir. */
    public static UnitDesign foldbackSupply(double secondaryV, double windingOhm, double reservoirF, double esrOhm) {
        RailDesign rail = foldback5V().rails().get(0);
        RectifierDesign bridge = RectifierDesign.bridge(secondaryV, windingOhm, Parts.RECTIFIER);
        return onMains(changed(rail, bridge, new CapacitorDesign(reservoirF, esrOhm), rail.amplifier()));
    }

    /** The latching board behind the mains side of bench-12v, with a bleeder that lets the latch go in time. */
    public static UnitDesign latchingSupply() {
        RailDesign rail = latching12V().rails().get(0);
        RailDesign mains = SimulatedUnits.named("bench-12v").rails().get(0);
        return onMains(changed(rail, mains.rectifier(), new CapacitorDesign(6800e-6, 0.03, 330), rail.amplifier()));
    }

    private static UnitDesign onMains(RailDesign rail) {
        return new UnitDesign("supply", "", 115, 60, 0, 0, List.of(cold(rail)));
    }

    private static RailDesign changed(
            RailDesign rail, RectifierDesign rectifier, CapacitorDesign reservoir, AmplifierDesign amplifier) {
        return new RailDesign(
                rail.name(),
                rail.negative(),
                rail.nominalV(),
                rail.ratedA(),
                rectifier,
                reservoir,
                rail.pass(),
                rail.limiter(),
                rail.reference(),
                amplifier,
                rail.output(),
                rail.thermal());
    }

    /** One of the simulated units with ideal heat sinks. */
    static UnitDesign cold(String name) {
        UnitDesign design = SimulatedUnits.named(name);
        return new UnitDesign(
                name,
                "",
                design.nominalLineV(),
                design.nominalLineHz(),
                design.primaryOhm(),
                design.magnetisingA(),
                design.rails().stream().map(Bench::cold).toList());
    }

    static RailDesign cold(RailDesign rail) {
        return withSink(rail, COLD);
    }

    /** bench-12v with a heat sink of 2.2 K/W that warms within 22 s instead of minutes. */
    static UnitDesign supplyWithSmallSink() {
        RailDesign rail = SimulatedUnits.named("bench-12v").rails().get(0);
        return new UnitDesign(
                "small-sink", "", 115, 60, 0, 0, List.of(withSink(rail, new ThermalDesign(2.2, 10, 0.3))));
    }

    private static RailDesign withSink(RailDesign rail, ThermalDesign thermal) {
        return new RailDesign(
                rail.name(),
                rail.negative(),
                rail.nominalV(),
                rail.ratedA(),
                rail.rectifier(),
                rail.reservoir(),
                rail.pass(),
                rail.limiter(),
                rail.reference(),
                rail.amplifier(),
                rail.output(),
                thermal);
    }

    /** A regulator board on a direct voltage; {@code line(volts, 50)} sets that voltage. */
    private static UnitDesign board(RailDesign rail) {
        double volts = rail.rectifier().secondaryV();
        return new UnitDesign("board", "", volts, 50, 0, 0, List.of(cold(rail)));
    }

    private static RectifierDesign direct(double volts) {
        return new RectifierDesign(RectifierDesign.Kind.DIRECT, volts, 1e-4, 0, Parts.RECTIFIER);
    }

    private static final CapacitorDesign HARDLY_ANY = new CapacitorDesign(1e-9, 0);

    static UnitDesign regulator12V() {
        return board(new RailDesign(
                "+12V",
                false,
                12,
                2,
                direct(20),
                HARDLY_ANY,
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 2200, 470),
                new ConstantCurrent(0.27, 47),
                new ReferenceDesign(Parts.ZENER_5V6, 1200, false),
                new AmplifierDesign(Parts.SIGNAL, 2000, 2200, 470e-12),
                new CapacitorDesign(220e-6, 0.08),
                COLD));
    }

    static UnitDesign latching12V() {
        RailDesign rail = regulator12V().rails().get(0);
        return board(new RailDesign(
                rail.name(),
                false,
                12,
                2,
                rail.rectifier(),
                HARDLY_ANY,
                rail.pass(),
                new Latching(0.27, 100, 100e-9),
                rail.reference(),
                rail.amplifier(),
                rail.output(),
                COLD));
    }

    static UnitDesign foldback5V() {
        return board(new RailDesign(
                "+5V",
                false,
                5,
                4,
                direct(12),
                HARDLY_ANY,
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 680, 220),
                new Foldback(0.4, 120, 500),
                new ReferenceDesign(Parts.ZENER_3V6, 1500, true),
                new AmplifierDesign(Parts.SIGNAL, 470, 2700, 470e-12),
                new CapacitorDesign(100e-6, 0.1),
                COLD));
    }

    static UnitDesign regulator190V() {
        return board(new RailDesign(
                "+190V",
                false,
                190,
                0.05,
                direct(240),
                HARDLY_ANY,
                PassDesign.darlington(Parts.HIGH_VOLTAGE, Parts.HIGH_VOLTAGE, 68e3, 10e3),
                new ConstantCurrent(10, 1000),
                new ReferenceDesign(Parts.ZENER_91V, 82e3, false),
                new AmplifierDesign(Parts.HIGH_VOLTAGE, 88e3, 82e3, 1e-12),
                new CapacitorDesign(4.7e-6, 0),
                COLD));
    }

    static Plant start(UnitDesign design, double lineV) {
        Plant plant = design.build(AT_27_C);
        plant.line(lineV, design.nominalLineHz());
        return plant;
    }
}

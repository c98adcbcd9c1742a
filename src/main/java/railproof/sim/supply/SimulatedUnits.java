package railproof.sim.supply;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import railproof.sim.supply.LimiterDesign.ConstantCurrent;
import railproof.sim.supply.LimiterDesign.Foldback;
import railproof.sim.supply.LimiterDesign.Latching;
import railproof.sim.supply.LimiterDesign.None;

/**
 * The unit types of the simulated bench, by name: supplies out of laboratory counters and tape machines, invented for
 * this project. Healthy units keep load regulation within 2 % and line regulation within 1 % over ±10 % line, work
 * at full load down to -12 % line, and limit at 110 % to 140 % of their rating when cold, those that have a limit.
 */
public final class SimulatedUnits {
    private static final Map<String, UnitDesign> BY_NAME = new TreeMap<>();

    static {
        for (UnitDesign design : List.of(
                bench12V(),
                counter5V(),
                counter15V(),
                counter175V(),
                counterThreeRail(),
                tape12VLatching(),
                tape6V(),
                tape24V(),
                tape85V())) {
            BY_NAME.put(design.name(), design);
        }
    }

    private SimulatedUnits() {}

    /** Names of all unit types, sorted. */
    public static List<String> names() {
        return List.copyOf(BY_NAME.keySet());
    }

    /**
     * The unit type of that name.
     *
     * @throws IllegalArgumentException if there is none; the message lists those there are
     */
    public static UnitDesign named(String name) {
        UnitDesign design = BY_NAME.get(name);
        if (design == null) {
            throw new IllegalArgumentException(
                    String.format(Locale.ROOT, "no simulated unit \"%s\"; there are: %s", name, names()));
        }
        return design;
    }

    /** The 12 V supply that is checked against the outside circuit simulator, value by value. */
    private static UnitDesign bench12V() {
        RailDesign rail = new RailDesign(
                "+12 V",
                false,
                12,
                2,
                RectifierDesign.bridge(16.5, 0.3, Parts.RECTIFIER),
                new CapacitorDesign(6800e-6, 0.03),
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 2200, 470),
                new ConstantCurrent(0.27, 47),
                new ReferenceDesign(Parts.ZENER_5V6, 1200, false),
                new AmplifierDesign(Parts.SIGNAL, 2000, 2200, 470e-12),
                new CapacitorDesign(220e-6, 0.08),
                new ThermalDesign(2.2, 180, 0.3));
        return new UnitDesign("bench-12v", "bench supply, 12 V 2 A, 115 V 60 Hz", 115, 60, 0, 0.05, List.of(rail));
    }

    private static UnitDesign counter5V() {
        RailDesign rail = new RailDesign(
                "+5 V",
                false,
                5,
                8,
                RectifierDesign.centreTap(10.4, 0.045, Parts.RECTIFIER.parallel(4)),
                new CapacitorDesign(47e-3, 0.008),
                PassDesign.darlington(
                        Parts.DRIVER.parallel(3).withGain(150),
                        Parts.PASS.parallel(5).withGain(100),
                        1200,
                        100),
                new Foldback(0.2, 120, 500),
                new ReferenceDesign(Parts.REFERENCE_3V6, 150, false),
                new AmplifierDesign(Parts.SIGNAL.parallel(2), 365, 2200, 2.2e-9),
                new CapacitorDesign(1000e-6, 0.03),
                new ThermalDesign(0.6, 900, 0.25));
        return new UnitDesign(
                "counter-5v",
                "counter, logic rail 5 V 8 A with foldback, 115 V 60 Hz",
                115,
                60,
                0.4,
                0.08,
                List.of(rail));
    }

    private static UnitDesign tape24V() {
        RailDesign rail = new RailDesign(
                "+24 V",
                false,
                24,
                3,
                RectifierDesign.bridge(30.5, 0.35, Parts.RECTIFIER),
                new CapacitorDesign(10e-3, 0.025),
                PassDesign.darlington(Parts.DRIVER.withGain(200), Parts.PASS.parallel(2), 3900, 330),
                new ConstantCurrent(0.186, 47),
                new ReferenceDesign(Parts.REFERENCE_6V2, 3300, false),
                new AmplifierDesign(Parts.SIGNAL, 5470, 2200, 470e-12),
                new CapacitorDesign(470e-6, 0.06),
                new ThermalDesign(0.9, 600, 0.25));
        return new UnitDesign(
                "tape-24v", "tape machine, motor rail 24 V 3 A, 230 V 50 Hz", 230, 50, 3, 0.06, List.of(rail));
    }

    private static RailDesign rail15V(String name, boolean negative) {
        return new RailDesign(
                name,
                negative,
                15,
                1,
                RectifierDesign.centreTap(19.5, 0.7, Parts.RECTIFIER),
                new CapacitorDesign(4700e-6, 0.04),
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 3900, 470),
                new ConstantCurrent(0.55, 47),
                new ReferenceDesign(Parts.REFERENCE_6V2, 1800, false),
                new AmplifierDesign(Parts.SIGNAL, 2610, 2200, 470e-12),
                new CapacitorDesign(220e-6, 0.1),
                new ThermalDesign(2.5, 150, 0.3));
    }

    private static UnitDesign counter15V() {
        return new UnitDesign(
                "counter-15v",
                "counter, analogue pair +15 V 1 A and -15 V 1 A, 115 V 60 Hz",
                115,
                60,
                8,
                0.04,
                List.of(rail15V("+15 V", false), rail15V("-15 V", true)));
    }

    private static UnitDesign tape85V() {
        RailDesign rail = new RailDesign(
                "+85 V",
                false,
                85,
                0.3,
                RectifierDesign.bridge(84, 5, Parts.RECTIFIER),
                new CapacitorDesign(1000e-6, 0.15, 22e3),
                PassDesign.darlington(Parts.HIGH_VOLTAGE, Parts.HIGH_VOLTAGE.parallel(6), 22000, 2200),
                new ConstantCurrent(1.75, 100),
                new ReferenceDesign(Parts.REFERENCE_33V, 12000, false),
                new AmplifierDesign(Parts.HIGH_VOLTAGE, 33600, 22000, 100e-12),
                new CapacitorDesign(47e-6, 0.3),
                new ThermalDesign(2.2, 200, 0.25));
        return new UnitDesign(
                "tape-85v", "tape machine, bias rail 85 V 0.3 A, 230 V 50 Hz", 230, 50, 6, 0.04, List.of(rail));
    }

    private static UnitDesign counter175V() {
        RailDesign rail = new RailDesign(
                "+175 V",
                false,
                175,
                0.04,
                RectifierDesign.bridge(164, 40, Parts.RECTIFIER),
                new CapacitorDesign(150e-6, 0.6, 220e3),
                PassDesign.darlington(Parts.HIGH_VOLTAGE, Parts.HIGH_VOLTAGE.parallel(2), 68000, 10000),
                new ConstantCurrent(12.5, 1000),
                new ReferenceDesign(Parts.REFERENCE_91V, 82000, false),
                new AmplifierDesign(Parts.HIGH_VOLTAGE, 75000, 82000, 22e-12),
                new CapacitorDesign(10e-6, 1),
                new ThermalDesign(6, 60, 0.2));
        return new UnitDesign(
                "counter-175v", "counter, display rail 175 V 40 mA, 230 V 50 Hz", 230, 50, 20, 0.03, List.of(rail));
    }

    private static RailDesign rail12V(String name, boolean negative, double ratedA) {
        double scaleRatio = ratedA;
        return new RailDesign(
                name,
                negative,
                12,
                ratedA,
                RectifierDesign.centreTap(16, 0.7 / scaleRatio, Parts.RECTIFIER),
                new CapacitorDesign(4700e-6 * scaleRatio, 0.04 / scaleRatio),
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 3300, 470),
                new ConstantCurrent(0.55 / scaleRatio, 47),
                new ReferenceDesign(Parts.REFERENCE_6V2, 1200, false),
                new AmplifierDesign(Parts.SIGNAL, 1650, 2200, 470e-12),
                new CapacitorDesign(220e-6, 0.1),
                new ThermalDesign(3, 120, 0.3));
    }

    private static UnitDesign counterThreeRail() {
        RailDesign logic = new RailDesign(
                "+5 V",
                false,
                5,
                4,
                RectifierDesign.centreTap(10.4, 0.09, Parts.RECTIFIER.parallel(2)),
                new CapacitorDesign(22e-3, 0.015),
                PassDesign.darlington(
                        Parts.DRIVER.parallel(2).withGain(150),
                        Parts.PASS.parallel(3).withGain(100),
                        1200,
                        150),
                new Foldback(0.4, 120, 500),
                new ReferenceDesign(Parts.REFERENCE_3V6, 150, false),
                new AmplifierDesign(Parts.SIGNAL.parallel(2), 365, 2200, 2.2e-9),
                new CapacitorDesign(470e-6, 0.05),
                new ThermalDesign(1.2, 450, 0.25));
        return new UnitDesign(
                "counter-3rail",
                "counter, +5 V 4 A, +12 V 1 A and -12 V 0.5 A, 115 V 60 Hz",
                115,
                60,
                4,
                0.06,
                List.of(logic, rail12V("+12 V", false, 1), rail12V("-12 V", true, 0.5)));
    }

    private static UnitDesign tape12VLatching() {
        RailDesign rail = new RailDesign(
                "+12 V",
                false,
                12,
                2,
                RectifierDesign.bridge(17, 0.3, Parts.RECTIFIER),
                new CapacitorDesign(10e-3, 0.03, 330),
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 2200, 470),
                new Latching(0.255, 100, 100e-9),
                new ReferenceDesign(Parts.REFERENCE_6V2, 1200, false),
                new AmplifierDesign(Parts.SIGNAL, 1650, 2200, 470e-12),
                new CapacitorDesign(220e-6, 0.08),
                new ThermalDesign(1.6, 250, 0.3));
        return new UnitDesign(
                "tape-12v-latching",
                "tape machine, logic rail 12 V 2 A with latching trip, 230 V 50 Hz",
                230,
                50,
                3,
                0.05,
                List.of(rail));
    }

    /** As simple as it gets: one diode, one pass transistor, nothing but a fuse against too much current. */
    private static UnitDesign tape6V() {
        RailDesign rail = new RailDesign(
                "+6 V",
                false,
                6,
                0.5,
                RectifierDesign.halfWave(10.5, 0.3, Parts.RECTIFIER),
                new CapacitorDesign(15e-3, 0.03),
                PassDesign.single(Parts.PASS.withGain(120), 390, 220),
                new None(0.1),
                new ReferenceDesign(Parts.REFERENCE_3V6, 240, false),
                new AmplifierDesign(Parts.SIGNAL.parallel(2), 384, 1000, 1e-9),
                new CapacitorDesign(470e-6, 0.08),
                new ThermalDesign(5, 60, 0.2));
        return new UnitDesign(
                "tape-6v",
                "tape machine, lamp rail 6 V 0.5 A, fused, without current limit, 230 V 50 Hz",
                230,
                50,
                0,
                0.02,
                List.of(rail));
    }
}

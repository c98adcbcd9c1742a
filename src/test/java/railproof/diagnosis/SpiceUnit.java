package railproof.diagnosis;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * One random unit for the circuit simulator: every part of {@code diagnose.cir} within its tolerance, and perhaps one
 * fault of random severity. Nominal values are those of the profile bench-12v. Nothing here comes from the model under
 * test: transistors are drawn by their simulator parameters, not by base-emitter voltages and gains at full load.
 *
 * @param fault what is wrong; empty for a sound unit
 * @param severityRatio 0 to 1
 * @param parameters of the netlist
 */
record SpiceUnit(Optional<PartFault> fault, double severityRatio, Map<String, Double> parameters) {
    static final double RATED_A = 2;
    static final double MOST_A = 3.5;
    static final double SHORT_OHM = 0.3;

    /** Draws a unit. */
    static SpiceUnit draw(Optional<PartFault> fault, RandomGenerator random) {
        Map<String, Double> p = new LinkedHashMap<>();
        p.put("hz", 60.0);
        p.put("lowline", 0.9);
        p.put("highline", 1.1);
        p.put("rated", RATED_A);
        p.put("most", MOST_A);
        p.put("shortohm", SHORT_OHM);
        p.put("peak", Math.sqrt(2) * near(16.5, 0.03, random) * near(1, 0.005, random));
        p.put("winding", near(0.3, 0.2, random));
        p.put("reservoir", near(6800e-6, 0.2, random));
        p.put("reservoiresr", ratio(0.03, 1.5, random));
        p.put("leak", 1e9);
        p.put("baddiode", 1e-3);
        p.put("isrect", ratio(5e-9, 3, random));
        p.put("feed", near(2200, 0.05, random));
        p.put("bleed", near(470, 0.05, random));
        p.put("bfpass", ratio(70, 1.35, random));
        p.put("ispass", ratio(2e-12, 2.5, random));
        p.put("kneepass", ratio(6, 1.4, random));
        p.put("bfdrv", ratio(110, 1.4, random));
        p.put("isdrv", ratio(60e-15, 2.5, random));
        p.put("early", ratio(110, 1.5, random));
        p.put("sense", near(0.27, 0.05, random));
        p.put("islim", ratio(12e-15, 2, random));
        double outV;
        do {
            // a unit whose output is not in its limits does not leave the works: its divider is chosen for its
            // reference
            p.put("vzener", near(5.6, 0.05, random));
            p.put("upper", near(2000, 0.02, random));
            p.put("lower", near(2200, 0.02, random));
            outV = (get(p, "vzener") + 0.73) * (1 + get(p, "upper") / get(p, "lower"));
        } while (Math.abs(outV - 12.08) > 0.3);
        p.put("rzener", ratio(8, 1.4, random));
        p.put("reffeed", near(1200, 0.05, random));
        p.put("iserr", ratio(12e-15, 2, random));
        p.put("bferr", ratio(250, 1.4, random));
        p.put("output", near(220e-6, 0.2, random));
        p.put("outputesr", ratio(0.08, 1.5, random));
        for (String never : new String[] {"passleak", "limshort", "errshort", "refshort"}) {
            p.put(never, 1e12);
        }
        for (String whole : new String[] {"drivercol", "passcol", "limcol", "errcol", "refseries"}) {
            p.put(whole, 1e-3);
        }
        for (String quiet : new String[] {"crack", "outage", "drift", "noise"}) {
            p.put(quiet, 0.0);
        }
        double severityRatio = random.nextDouble();
        fault.ifPresent(f -> spoil(f, severityRatio, p));
        return new SpiceUnit(fault, severityRatio, p);
    }

    private static double get(Map<String, Double> p, String name) {
        return p.getOrDefault(name, 0.0);
    }

    private static double near(double nominal, double toleranceRatio, RandomGenerator random) {
        return nominal * (1 + toleranceRatio * (2 * random.nextDouble() - 1));
    }

    private static double ratio(double nominal, double factor, RandomGenerator random) {
        return nominal * Math.pow(factor, 2 * random.nextDouble() - 1);
    }

    private static double swept(double mild, double bad, double severityRatio) {
        return mild * Math.pow(bad / mild, severityRatio);
    }

    private static void spoil(PartFault fault, double s, Map<String, Double> p) {
        switch (fault) {
            case LINE_LOW -> p.merge("peak", 0.9 - 0.2 * s, (a, b) -> a * b);
            case TAP_WRONG -> p.merge("peak", s < 0.4 ? 0.75 + 0.35 * s : 1.1 + 0.3 * (s - 0.4), (a, b) -> a * b);
            case JOINT_RESISTIVE -> p.merge("winding", swept(0.4, 2.4, s), Double::sum);
            case JOINT_CRACKED -> p.put("crack", 1.0);
            case DIODE_OPEN -> p.put("baddiode", swept(100, 1e9, s));
            case RESERVOIR_LOW -> p.merge("reservoir", 0.65 - 0.6 * s, (a, b) -> a * b);
            case RESERVOIR_ESR -> p.merge("reservoiresr", swept(0.2, 2.2, s), Double::sum);
            case RESERVOIR_LEAKY -> p.put("leak", 20 / (RATED_A * (0.08 + 0.4 * s)));
            case PASS_SHORT -> p.put("passleak", swept(2.5, 0.02, s));
            case PASS_OPEN -> p.put("passcol", swept(1e5, 1e9, s));
            case PASS_INTERMITTENT -> p.put("outage", 1.0);
            case DRIVER_OPEN -> p.put("drivercol", swept(1e6, 1e9, s));
            case DRIVER_WEAK -> p.merge("bfdrv", swept(0.25, 0.02, s), (a, b) -> a * b);
            case FEED_HIGH -> p.merge("feed", swept(2.5, 20, s), (a, b) -> a * b);
            case REFERENCE_SHORT -> p.put("refshort", swept(200, 0.5, s));
            case REFERENCE_OPEN -> p.put("refseries", swept(1e6, 1e9, s));
            case REFERENCE_NOISY -> p.put("noise", swept(0.0016, 0.012, s));
            case REFERENCE_DRIFTING -> p.put("drift", 0.008 + 0.035 * s);
            case ERROR_OPEN -> p.put("errcol", swept(1e6, 1e9, s));
            case ERROR_SHORT -> p.put("errshort", swept(300, 0.5, s));
            case UPPER_OPEN -> p.put("upper", swept(1e6, 1e9, s));
            case UPPER_HIGH -> p.merge("upper", 1.06 + 0.18 * s, (a, b) -> a * b);
            case LOWER_OPEN -> p.put("lower", swept(1e6, 1e9, s));
            case SENSE_HIGH -> p.merge("sense", 1.35 + 1.6 * s, (a, b) -> a * b);
            case LIMIT_SHORT -> p.put("limshort", swept(300, 0.5, s));
            case LIMIT_OPEN -> p.put("limcol", swept(1e6, 1e9, s));
            case OUTPUT_WORN -> {
                p.merge("output", 0.5 - 0.45 * s, (a, b) -> a * b);
                p.merge("outputesr", swept(8, 110, s), (a, b) -> a * b);
            }
            case LOOP_OSCILLATES -> p.put("oscillation", swept(0.02, 0.35, s));
            default -> throw new IllegalArgumentException("no circuit for " + fault);
        }
    }

    /** The line of the netlist that sets all parameters. */
    String parameterText() {
        StringBuilder text = new StringBuilder();
        parameters.forEach((name, value) -> {
            if (!name.equals("oscillation")) {
                text.append(String.format(Locale.ROOT, ".param %s=%.8g%n", name, value));
            }
        });
        return text.toString();
    }
}

package railproof.diagnosis;

/**
 * The capacitor-input rectifier in the steady state: source resistance, diode drops that follow the current, series
 * resistance of the reservoir, unequal halves, one bad diode; or one diode altogether. Stepped through one line cycle; the start that comes back
 * to itself is found by the secant method. Confined to one thread.
 */
final class Rectifier {
    static final int STEPS = 120;
    /** Emission coefficient 1.5 times the thermal voltage: silicon rectifiers. */
    static final double SLOPE_V = 1.5 * Circuit.THERMAL_V;

    private static final int SHOTS = 12;
    private static final double CLOSED_V = 1e-4;
    /** Sine at the end of each step. */
    static final double[] SINE = new double[STEPS];

    static {
        for (int k = 0; k < STEPS; k++) {
            SINE[k] = Math.sin(2 * Math.PI * (k + 1) / STEPS);
        }
    }

    private final Circuit circuit;
    private final double stepS;
    final double[] rawV = new double[STEPS];
    private double windingOhm;
    private double peakV;
    private double drawnA;
    double secondaryRmsA;

    Rectifier(Circuit circuit, double lineHz) {
        this.circuit = circuit;
        this.stepS = 1 / (lineHz * STEPS);
    }

    /**
     * Solves.
     *
     * @param lineRatio line over nominal line
     * @param seriesOhm resistance of winding and leads, Ω
     * @param loadA current out of the reservoir, A
     */
    void solve(double lineRatio, double seriesOhm, double loadA) {
        windingOhm = seriesOhm;
        peakV = circuit.peakV * circuit.inletRatio * lineRatio;
        drawnA = loadA + circuit.leakA;
        double before = Math.max(0, peakV - 1.2 * (circuit.bridge ? 2 : 1) - drawnA * 3 * Math.min(seriesOhm, 1e3));
        double beforeMiss = cycle(before) - before;
        double at = Math.max(0, before + beforeMiss);
        for (int i = 0; i < SHOTS; i++) {
            double miss = cycle(at) - at;
            if (Math.abs(miss) < CLOSED_V || (at == 0 && miss <= 0)) {
                return;
            }
            double slope = (miss - beforeMiss) / (at - before);
            before = at;
            beforeMiss = miss;
            // the map shrinks, so its slope less one lies between −1 and 0
            at = Math.max(0, at - miss / (slope < -1e-3 && slope > -1.5 ? slope : -0.5));
        }
    }

    private double cycle(double startV) {
        double storedV = startV;
        double squares = 0;
        double perF = stepS / circuit.reservoirF;
        double dropsV = (circuit.bridge ? 2 : 1) * SLOPE_V;
        double flowA = 0;
        double bledPerOhm = 1 / circuit.reservoirBleedOhm;
        for (int k = 0; k < STEPS; k++) {
            double takenA = drawnA + bledPerOhm * storedV;
            boolean first = SINE[k] >= 0;
            double sourceV = (circuit.halfWave ? Math.max(0, SINE[k]) : Math.abs(SINE[k]))
                    * peakV
                    * (first ? 1 + 0.5 * circuit.mismatchRatio : 1 - 0.5 * circuit.mismatchRatio);
            double seriesOhm =
                    windingOhm + circuit.reservoirEsrOhm + perF + (first == circuit.halfWave ? circuit.badDiodeOhm : 0);
            double drivingV = sourceV - storedV + takenA * (circuit.reservoirEsrOhm + perF);
            flowA = SeriesDiode.currentA(drivingV, seriesOhm, dropsV, circuit.diodeSaturationA, flowA);
            storedV = Math.max(0, storedV + (flowA - takenA) * perF);
            rawV[k] = Math.max(0, storedV + (flowA - takenA) * circuit.reservoirEsrOhm);
            squares += flowA * flowA;
        }
        secondaryRmsA = Math.sqrt(squares / STEPS);
        return storedV;
    }
}

package railproof.sim.supply;

/**
 * A capacitor as fitted.
 *
 * @param capacitanceF capacitance, F
 * @param esrOhm equivalent series resistance, Ω
 * @param bleederOhm resistor fitted across it, Ω; {@link #NO_BLEEDER_OHM} if there is none
 */
record CapacitorDesign(double capacitanceF, double esrOhm, double bleederOhm) {
    static final double NO_BLEEDER_OHM = 1e12;

    CapacitorDesign {
        Require.positive("capacitanceF", capacitanceF);
        Require.notNegative("esrOhm", esrOhm);
        Require.positive("bleederOhm", bleederOhm);
    }

    CapacitorDesign(double capacitanceF, double esrOhm) {
        this(capacitanceF, esrOhm, NO_BLEEDER_OHM);
    }
}

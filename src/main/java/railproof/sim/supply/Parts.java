package railproof.sim.supply;

/** Generic semiconductors: round numbers for a class of device, nobody's part. */
final class Parts {
    static final BjtModel PASS = new BjtModel(2e-12, 70, 120, 6, 0.5, 0.01, 0.03, 50e-9, 800e-12, 300e-12);
    static final BjtModel DRIVER = new BjtModel(60e-15, 110, 150, 0.8, 2, 0.05, 0.2, 2e-9, 120e-12, 30e-12);
    static final BjtModel SIGNAL = new BjtModel(12e-15, 250, 90, 0.12, 20, 0.3, 1, 0.5e-9, 12e-12, 5e-12);
    static final BjtModel LATCH_PNP = new BjtModel(12e-15, 120, 60, 0.1, 20, 0.3, 1, 1e-9, 12e-12, 6e-12);
    static final BjtModel HIGH_VOLTAGE = new BjtModel(20e-15, 80, 300, 0.2, 20, 0.3, 2, 2e-9, 40e-12, 8e-12);

    static final DiodeModel RECTIFIER = DiodeModel.rectifier(5e-9, 1.5, 0.012);

    static final DiodeModel ZENER_3V6 = new DiodeModel(1e-9, 1.2, 12, 3.6, 5e-3, 0);
    static final DiodeModel ZENER_5V6 = new DiodeModel(1e-9, 1.2, 8, 5.6, 5e-3, 0);
    static final DiodeModel ZENER_91V = new DiodeModel(1e-9, 1.2, 30, 91, 2e-3, 0);

    /** Low-impedance reference diodes whose temperature coefficient about cancels that of the error transistor. */
    static final DiodeModel REFERENCE_3V6 = new DiodeModel(1e-9, 1, 2, 3.6, 10e-3, 1.6e-3);

    static final DiodeModel REFERENCE_6V2 = new DiodeModel(1e-9, 1, 3, 6.2, 5e-3, 1.6e-3);
    static final DiodeModel REFERENCE_33V = new DiodeModel(1e-9, 1, 12, 33, 4e-3, 2.5e-3);
    static final DiodeModel REFERENCE_91V = new DiodeModel(1e-9, 1.2, 30, 91, 2e-3, 4e-3);

    private Parts() {}
}

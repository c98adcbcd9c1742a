package railproof.sim.device;

/** Ways in which the simulated line source misbehaves. */
public enum LineFault {
    /** OFF is taken without complaint and nothing happens. */
    IGNORES_OFF,
    /** Obeys, but answers that its output is off whatever it is. */
    CLAIMS_OFF,
    /** Does not answer any more; still obeys. */
    SILENT,
    /** Neither hears nor answers; the output stays as it is. */
    DEAF
}

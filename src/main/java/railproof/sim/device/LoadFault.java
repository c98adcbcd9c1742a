package railproof.sim.device;

/** Ways in which the simulated load misbehaves, for campaigns that show that the rig notices. */
public enum LoadFault {
    /** OFF is taken without complaint and nothing happens. */
    IGNORES_OFF,
    /** Obeys, but answers that its input is off whatever it is. */
    CLAIMS_OFF,
    /** Obeys, but answers that its input is on whatever it is. */
    CLAIMS_ON,
    /** Does not answer any more; still obeys. */
    SILENT,
    /** Neither hears nor answers; the input stays as it is. */
    DEAF,
    /** Its watchdog never drops the input. */
    WATCHDOG_DEAD,
    /** Its protections never trip. */
    PROTECTION_DEAD,
    /** Measurements answer 9.91E37, "not a number". */
    MEASURES_NOTHING,
    /** ON is taken without complaint and nothing happens. */
    IGNORES_ON,
    /** OFF is refused in local control, as some real loads do. */
    OFF_NEEDS_REMOTE
}

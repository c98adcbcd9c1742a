package railproof.instrument;

/** State of the measuring board, as in the protocol page. */
public enum BoardState {
    /** Starting; outputs off. */
    BOOT,
    /** Outputs off, not armed. */
    SAFE,
    /** Armed by the host: relays may be switched; load-enable still off. */
    ARMED,
    /** Load-enable on. */
    ACTIVE,
    /** A fault is latched; outputs off. */
    TRIPPED
}

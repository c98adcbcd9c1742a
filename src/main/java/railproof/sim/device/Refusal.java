package railproof.sim.device;

/** A request the simulated board refuses: error code and detail of the protocol. */
final class Refusal extends RuntimeException {
    static final int BAD_TYPE = 1;
    static final int BAD_LENGTH = 2;
    static final int BAD_VALUE = 3;
    static final int BAD_STATE = 4;
    static final int BUSY = 5;
    static final int NOT_ARMED = 6;
    static final int FAULT_LATCHED = 7;
    static final int LOCKED = 8;
    static final int NO_DATA = 9;
    static final int VERSION = 10;
    static final int INTERLOCK = 12;

    private static final long serialVersionUID = 1;
    private final int code;
    private final int detail;

    Refusal(int code, int detail) {
        super("refused with code " + code + ", detail " + detail, null, false, false);
        this.code = code;
        this.detail = detail;
    }

    /** Refuses a field that is out of range; the detail is its offset. */
    static void unless(boolean inRange, int fieldOffset) {
        if (!inRange) {
            throw new Refusal(BAD_VALUE, fieldOffset);
        }
    }

    int code() {
        return code;
    }

    int detail() {
        return detail;
    }
}

package railproof.wire;

/** What an entry of a device's error queue means for the host, and so what has to be done about it. */
public enum ScpiErrorKind {
    /** The device does not know the command or its form: the rig file's dialect is wrong for it (or the line is noisy). */
    DIALECT_WRONG("the dialect in the rig file does not suit this device, or the line is noisy"),
    /** The command is known, its value or moment is not allowed: the plan asks for what the device cannot do. */
    PLAN_WRONG("the device cannot do what the plan asks"),
    /** Bytes were lost or came out of step. */
    LINK_TROUBLE("bytes were lost on the link"),
    /** The device itself is in trouble: a protection tripped, hardware failed, memory lost, power was cycled. */
    DEVICE_FAULT("the device reports a fault of its own"),
    /** An event, not an error. */
    NOTICE("an event");

    private final String meaning;

    ScpiErrorKind(String meaning) {
        this.meaning = meaning;
    }

    /** What it means, in words. */
    public String meaning() {
        return meaning;
    }

    /**
     * Sorts an error number by the classes of SCPI-1999 volume 2, section 21.8 (number ranges from memory of the
     * standard: -1xx command, -2xx execution, -3xx device, -4xx query, -5xx to -8xx events, positive device's own).
     */
    static ScpiErrorKind of(int code) {
        if (code == -201 || code == -203) {
            return DIALECT_WRONG; // refused in local or as protected: the dialect lacks the command that opens the door
        }
        if (code <= -240 && code > -250) {
            return DEVICE_FAULT;
        }
        if ((code <= -360 && code > -370) || (code <= -400 && code > -500)) {
            return LINK_TROUBLE;
        }
        if (code > 0 || code == -500 || (code <= -300 && code > -400)) {
            return DEVICE_FAULT;
        }
        if (code <= -200 && code > -300) {
            return PLAN_WRONG;
        }
        if (code <= -600 && code > -900) {
            return NOTICE;
        }
        return DIALECT_WRONG;
    }
}

package railproof.instrument;

import java.util.Locale;

/** Why the board refused a request. */
enum BoardErrorCode {
    BAD_TYPE(1, "it does not know this message"),
    BAD_LENGTH(2, "the payload is too short"),
    BAD_VALUE(3, "a field is out of range; detail is its offset"),
    BAD_STATE(4, "not in this state; detail is the state"),
    BUSY(5, "another job has what this one needs"),
    NOT_ARMED(6, "the arm token is not the right one"),
    FAULT_LATCHED(7, "a fault is latched; detail is the first"),
    LOCKED(8, "it is locked"),
    NO_DATA(9, "there is no such data"),
    VERSION(10, "no protocol version in common; detail is the board's major"),
    HARDWARE(11, "its hardware does not obey"),
    INTERLOCK(12, "an interlock is open; detail is the mask of open inputs");

    private final int code;
    private final String words;

    BoardErrorCode(int code, String words) {
        this.code = code;
        this.words = words;
    }

    int code() {
        return code;
    }

    /** What an error answer says, in words. */
    static String describe(int code, int detail) {
        for (BoardErrorCode known : values()) {
            if (known.code == code) {
                return String.format(Locale.ROOT, "%s (%s), detail %d", known.name(), known.words, detail);
            }
        }
        return "unknown error " + code + ", detail " + detail;
    }
}

package railproof.sim.device;

/** A program message unit cannot be carried out; becomes an entry of the error queue. */
final class ScpiRefusal extends Exception {
    private final int code;

    ScpiRefusal(int code, String text) {
        super(text, null, false, false);
        this.code = code;
    }

    int code() {
        return code;
    }

    String text() {
        return String.valueOf(getMessage());
    }

    /** Command errors end the whole message; execution errors only their unit. */
    boolean commandError() {
        return code <= -100 && code > -200;
    }
}

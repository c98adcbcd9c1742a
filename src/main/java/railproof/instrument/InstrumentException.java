package railproof.instrument;

/** An instrument refused a command, or does not do what it was told. */
public final class InstrumentException extends Exception {
    /**
     * States the disagreement.
     *
     * @param instrument its name in the rig file
     * @param command what was asked of it
     * @param expected what should have come
     * @param got what came
     */
    public InstrumentException(String instrument, String command, String expected, String got) {
        super(instrument + ": " + command + ": wanted " + expected + ", got " + got);
    }
}

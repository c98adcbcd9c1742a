package railproof.run;

/** Notes of those points of {@link Section#LOAD_SWEEP} that are not on the way up. */
public final class SweepNote {
    /** On the way back from full load. */
    public static final String BACK = "back";
    /** Back at no load, or the smallest load the rail may have: the end of the sweep. */
    public static final String RETURN = "return";

    private SweepNote() {}
}

package railproof.judge;

/**
 * What is said of one check, in the words of ILAC-G8:09/2019 section 4.2; ordered from best to worst. Binary rules use
 * only PASS and FAIL.
 */
public enum Verdict {
    /** Inside the acceptance zone. */
    PASS("pass"),
    /** Inside the limit, but closer to it than the guard band. */
    CONDITIONAL_PASS("conditional pass"),
    /** Not enough was measured, or the uncertainty leaves no acceptance zone. */
    NOT_JUDGED("not judged"),
    /** Outside the limit, but by less than the guard band. */
    CONDITIONAL_FAIL("conditional fail"),
    /** Outside. */
    FAIL("fail");

    private final String words;

    Verdict(String words) {
        this.words = words;
    }

    /** As printed. */
    public String words() {
        return words;
    }
}

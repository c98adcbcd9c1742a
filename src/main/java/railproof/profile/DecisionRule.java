package railproof.profile;

/** The decision rules of ILAC-G8:09/2019, section 4.2. Agreed before measuring; printed on every record. */
public enum DecisionRule {
    /** 4.2.1: binary statement, simple acceptance rule (w = 0). */
    SIMPLE_ACCEPTANCE,
    /** 4.2.2: binary statement with guard band w = U. */
    GUARD_BAND,
    /** 4.2.3: non-binary statement with guard band w = U: pass, conditional pass, conditional fail, fail. */
    NON_BINARY
}

package railproof.profile;

/**
 * What can be asked for in {@code plan.procedures}, in the order in which it is done: from what strains a unit least to
 * what strains it most. The check without load always comes before, the watch over stored charge always after.
 */
public enum Procedure {
    /** The line brought up in steps, for a unit just repaired. */
    FIRST_POWER_UP,
    /** Load current swept at nominal line. */
    LOAD_SWEEP,
    /** Line voltage swept at the loads asked for. */
    LINE_SWEEP,
    /** Search for the line voltage at which regulation is lost. */
    DROPOUT_LINE,
    /** Load switched between two levels, both ways. */
    LOAD_STEP,
    /** Line off at full load. */
    HOLD_UP,
    /** Line on with the load already there. */
    START_UP,
    /** Search for the current limit and what lies beyond. */
    CURRENT_LIMIT,
    /** What loading one rail does to the others. */
    CROSS_REGULATION
}

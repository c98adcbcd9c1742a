package railproof.judge;

/**
 * Something the record shows that no limit is set for: a clue for whoever repairs, never part of a verdict.
 *
 * @param rail the rail's name
 * @param title what it is about, e.g. {@code Ripple}
 * @param words what was seen
 */
public record Observation(String rail, String title, String words) {}

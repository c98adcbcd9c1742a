package railproof.profile;

/**
 * A limit on load or line regulation.
 *
 * @param maxDimensionless largest allowed magnitude: a ratio (0.01 is 1 %) for the percentage conventions, V for
 *     {@link Convention#IN_VOLTS}; greater than zero
 * @param convention what it is a ratio of
 */
public record RegulationLimit(double maxDimensionless, Convention convention) {}

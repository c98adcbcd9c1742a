package railproof.profile;

/**
 * The mains the unit is made for.
 *
 * @param nominalV nominal root mean square voltage, V; 24 to 440
 * @param lowV lowest line the unit must regulate at, V
 * @param highV highest line, V
 * @param frequencyHz nominal frequency, Hz; 45 to 66
 */
public record LineRating(double nominalV, double lowV, double highV, double frequencyHz) {}

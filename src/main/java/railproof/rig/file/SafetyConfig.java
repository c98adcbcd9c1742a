package railproof.rig.file;

/**
 * What the bench is built for, whatever its instruments could do.
 *
 * @param maxOutputV highest rail voltage its wiring and covers are made for, V
 * @param maxPowerW most power it may turn into heat, all loads together, W
 * @param leadResistanceOhm resistance of a pair of load leads, Ω, there and back
 */
public record SafetyConfig(double maxOutputV, double maxPowerW, double leadResistanceOhm) {}

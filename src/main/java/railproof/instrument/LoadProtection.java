package railproof.instrument;

/**
 * Limits the load itself enforces, written before its input is ever switched on.
 *
 * @param overCurrentA load drops its input above this, A; greater than zero
 * @param overVoltageV load drops its input above this, V; greater than zero
 * @param overPowerW load drops its input above this, W; greater than zero
 */
public record LoadProtection(double overCurrentA, double overVoltageV, double overPowerW) {}

package railproof.instrument;

/**
 * What the load measures at its own terminals. The voltage is for plausibility only: it includes the lead drop.
 *
 * @param voltageV terminal voltage, V
 * @param currentA current sunk, A
 */
public record LoadReading(double voltageV, double currentA) {}

package railproof.app;

import railproof.base.Clock;

/**
 * Where the instruments of a run are: real ports, or a simulated bench.
 *
 * @param clock the clock all waiting is done by
 * @param links opens the rig's links
 * @param simulated whether this is known to be a simulation before any instrument says so
 * @param simulatedUnit which unit and fault is simulated, in words; empty on a real bench
 */
public record BenchAccess(Clock clock, LinkOpener links, boolean simulated, String simulatedUnit) {}

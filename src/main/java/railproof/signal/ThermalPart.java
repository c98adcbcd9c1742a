package railproof.signal;

import railproof.base.Measured;

/**
 * What warming up did to the output during a load sweep that begins and ends without load: the two differ by it alone.
 * At full load, in between, warming is taken to have gone as far as time had: the straight line between the two.
 *
 * <p>Thread: immutable; any.
 *
 * @param change output without load, after less before, V
 * @param loadEffectV drop from no load to full load, warming taken out, V
 * @param warmingV what warming added to the drop that was seen, V; negative if it took away from it
 */
public record ThermalPart(Measured change, double loadEffectV, double warmingV) {
    /**
     * An output and when it was read.
     *
     * @param atS time, s
     * @param output magnitude as the rail stands, V
     */
    public record Level(double atS, Measured output) {}

    /**
     * Parts the two.
     *
     * @param before without load, before the sweep
     * @param full at full load
     * @param after without load, after it; later than {@code before}
     */
    public static ThermalPart of(Level before, Level full, Level after) {
        Samples.requirePositive("time between the readings without load", after.atS() - before.atS());
        Measured change = Regulation.difference(after.output(), before.output());
        double part = (full.atS() - before.atS()) / (after.atS() - before.atS());
        double warmingV = -part * change.value();
        double seenV = before.output().value() - full.output().value();
        return new ThermalPart(change, seenV - warmingV, warmingV);
    }
}

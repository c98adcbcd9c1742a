package railproof.rig;

/**
 * What a rail may do before everything is switched off. Written to the board and the load before anything is energised,
 * and checked again on every reading.
 *
 * @param nominalV nominal output, V, signed: its sign is the polarity that is allowed
 * @param overVoltageV largest magnitude allowed, V
 * @param overCurrentA largest current the load may take, A
 */
public record Envelope(double nominalV, double overVoltageV, double overCurrentA) {
    /** Magnitude of wrong polarity that is still taken for zero: a fraction of nominal. */
    private static final double REVERSE_RATIO = 0.05;

    /** Lowest and highest terminal voltage allowed, V, signed. */
    public double lowV() {
        return nominalV > 0 ? -REVERSE_RATIO * nominalV : -overVoltageV;
    }

    /** Highest terminal voltage allowed, V, signed. */
    public double highV() {
        return nominalV > 0 ? overVoltageV : -REVERSE_RATIO * nominalV;
    }

    /** Why a voltage is outside, in words; empty if it is inside. */
    public String breach(String rail, double voltageV) {
        if (voltageV >= lowV() && voltageV <= highV()) {
            return "";
        }
        if (voltageV * nominalV < 0) {
            return String.format(
                    java.util.Locale.ROOT,
                    "wrong polarity on %s: %.3g V at the terminals, expected about %.3g V",
                    rail,
                    voltageV,
                    nominalV);
        }
        return String.format(
                java.util.Locale.ROOT,
                "over-voltage on %s: %.4g V at the terminals, allowed up to %.4g V",
                rail,
                voltageV,
                nominalV > 0 ? overVoltageV : -overVoltageV);
    }
}

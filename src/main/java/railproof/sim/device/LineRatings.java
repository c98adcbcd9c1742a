package railproof.sim.device;

/**
 * What kind of line source is simulated.
 *
 * @param maxV highest setting, V rms
 * @param minHz lowest frequency, Hz
 * @param maxHz highest frequency, Hz
 * @param settingGainRatio gain error of its output: 0.001 gives 0.1 % too much
 * @param meterGainRatio gain error of its own voltmeter
 * @param meterNoiseV standard deviation of one of its readings, V
 */
public record LineRatings(
        double maxV, double minHz, double maxHz, double settingGainRatio, double meterGainRatio, double meterNoiseV) {
    /** An electronic source of 300 V without errors. */
    public static final LineRatings IDEAL = new LineRatings(300, 45, 65, 0, 0, 0);

    public LineRatings {
        if (!(maxV > 0) || !(minHz > 0) || !(maxHz >= minHz)) {
            throw new IllegalArgumentException("line source of " + maxV + " V, " + minHz + " to " + maxHz + " Hz");
        }
    }
}

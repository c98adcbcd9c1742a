package railproof.sim.device;

/**
 * How wrong the simulated load is. Gains are errors: 0.001 reads or sinks 0.1 % too much.
 *
 * @param meterGainVRatio gain error of its voltmeter
 * @param meterOffsetV offset of its voltmeter, V
 * @param meterNoiseV standard deviation of one voltage reading, V
 * @param meterGainARatio gain error of its ammeter
 * @param meterOffsetA offset of its ammeter, A
 * @param meterNoiseA standard deviation of one current reading, A
 * @param settingGainARatio gain error of the current it sinks
 * @param settingOffsetA offset of the current it sinks, A
 */
public record LoadAccuracy(
        double meterGainVRatio,
        double meterOffsetV,
        double meterNoiseV,
        double meterGainARatio,
        double meterOffsetA,
        double meterNoiseA,
        double settingGainARatio,
        double settingOffsetA) {
    /** No errors at all. */
    public static final LoadAccuracy IDEAL = new LoadAccuracy(0, 0, 0, 0, 0, 0, 0, 0);

    /** An ordinary bench load some time after its calibration. */
    public static final LoadAccuracy ORDINARY = new LoadAccuracy(2e-4, 2e-3, 5e-4, -3e-4, 1e-3, 3e-4, 5e-4, 1e-3);
}

package railproof.rig;

/**
 * Where the numbering of a run begins: at zero, or behind what is on record already when a run is taken up again.
 *
 * @param elapsedS time since the start of the run, s
 * @param nextPoint index of the next point
 * @param nextWaveform id of the next capture
 */
public record RunStart(double elapsedS, int nextPoint, int nextWaveform) {
    /** A new run. */
    public static final RunStart NEW = new RunStart(0, 0, 0);

    public RunStart {
        if (!(elapsedS >= 0) || nextPoint < 0 || nextWaveform < 0) {
            throw new IllegalArgumentException(
                    "a run starts at 0 or later, got " + elapsedS + " s, point " + nextPoint + ", " + nextWaveform);
        }
    }
}

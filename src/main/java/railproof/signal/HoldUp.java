package railproof.signal;

import java.util.OptionalDouble;

/**
 * How long the output stays up after the line has gone.
 *
 * <p>Thread: immutable; any.
 *
 * @param timeS from line off until the output fell through the level, s; empty if it stood to the end of the record
 * @param standardUS standard uncertainty of that time, s: sample spacing and the level's own error over the slope there;
 *     0 if the time is empty
 * @param recordedS how long the output was seen after line off, s
 */
public record HoldUp(OptionalDouble timeS, double standardUS, double recordedS) {
    /**
     * Reads a record.
     *
     * @param outputV magnitude of the output, V, oldest first
     * @param rateHz samples per second, Hz
     * @param offIndex first sample without line
     * @param levelV the output is down below this, V
     * @param levelUV standard uncertainty of a reading near that level, V
     */
    public static HoldUp of(double[] outputV, double rateHz, int offIndex, double levelV, double levelUV) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.require(outputV, offIndex + 2);
        for (int i = offIndex; i < outputV.length; i++) {
            if (outputV[i] < levelV) {
                Crossing down = Crossing.after(outputV, rateHz, Math.max(0, i - 1), levelV, offIndex);
                return new HoldUp(
                        OptionalDouble.of(Math.max(0, down.atS())),
                        down.standardUS(levelUV, rateHz),
                        (outputV.length - offIndex) / rateHz);
            }
        }
        return new HoldUp(OptionalDouble.empty(), 0, (outputV.length - offIndex) / rateHz);
    }
}

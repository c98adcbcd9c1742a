package railproof.instrument;

/**
 * What starts a block capture. Any of them can also be started by hand ({@link DaqBoard#triggerCapture}).
 *
 * <p>Thread: immutable.
 */
public sealed interface CaptureTrigger {
    /** The first sample. */
    record Immediate() implements CaptureTrigger {}

    /** {@link DaqBoard#triggerCapture} alone. */
    record Host() implements CaptureTrigger {}

    /**
     * An input that crosses a level: a sample at or beyond it after one before it.
     *
     * @param channel the input, 0 to 31; must be captured
     * @param levelCode the level, -32768 to 32767
     * @param rising whether it is crossed upwards
     */
    record Level(int channel, int levelCode, boolean rising) implements CaptureTrigger {
        public Level {
            if (channel < 0 || channel >= BoardCapability.MAX_CHANNELS) {
                throw new IllegalArgumentException("trigger channel must be 0 to 31, got " + channel);
            }
            if (levelCode < Short.MIN_VALUE || levelCode > Short.MAX_VALUE) {
                throw new IllegalArgumentException("trigger level must be -32768 to 32767, got " + levelCode);
            }
        }
    }

    /** Load-enable, either way. */
    record LoadEnableEdge() implements CaptureTrigger {}

    /** Any trip of the board. */
    record Fault() implements CaptureTrigger {}
}

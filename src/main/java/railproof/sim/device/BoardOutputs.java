package railproof.sim.device;

/**
 * What the simulated board drives. Called at the instant of the change, after the {@link AnalogSource} was brought
 * there.
 */
public interface BoardOutputs {
    /** Relay contacts as they are now; bit i set: relay i has operated. */
    void relays(int energised);

    /** Load-enable as it is now. */
    void loadEnable(boolean on);

    /** Nobody listens. */
    static BoardOutputs none() {
        return new BoardOutputs() {
            @Override
            public void relays(int energised) {}

            @Override
            public void loadEnable(boolean on) {}
        };
    }
}

package railproof.sim.device;

/** Nothing at the inputs: 0 V, always. */
public final class DarkInputs implements AnalogSource {
    @Override
    public void advanceTo(double timeS) {}

    @Override
    public double voltageV(int channel) {
        return 0;
    }
}

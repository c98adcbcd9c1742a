package railproof.app;

import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Random;
import railproof.rig.ChannelCalibration;
import railproof.sim.SimulatedBench;

/** Sets the simulated bench's calibrator and reads it with a reference meter as wrong as it says it may be. */
final class SimulatedCalibrator implements Calibrator {
    private static final double LEAD_CURRENT_A = 2;

    private final SimulatedBench bench;
    private final Calibrator onlooker;
    private final double gainErrorRatio;
    private final double offsetErrorDimensionless;

    SimulatedCalibrator(SimulatedBench bench, ChannelCalibration.Reference reference, long seed, Calibrator onlooker) {
        this.bench = bench;
        this.onlooker = onlooker;
        Random errors = new Random(seed);
        this.gainErrorRatio = reference.gainURatio() * errors.nextGaussian();
        this.offsetErrorDimensionless = reference.offsetUDimensionless() * errors.nextGaussian();
    }

    @Override
    public OptionalDouble reading(Step step, String channel, double level, String unit) {
        if (step == Step.LEAD_CURRENT) {
            onlooker.show(String.format(
                    Locale.ROOT, "%s: simulated load leads carry %.6g %s", channel, LEAD_CURRENT_A, unit));
            return OptionalDouble.of(LEAD_CURRENT_A);
        }
        double applied = step == Step.ZERO ? 0 : level;
        bench.calibrator(applied);
        double reading = step == Step.ZERO ? 0 : applied * (1 + gainErrorRatio) + offsetErrorDimensionless;
        onlooker.show(String.format(
                Locale.ROOT,
                "%s: simulated calibrator at %.6g %s, simulated reference reads %.7g %s",
                channel,
                applied,
                unit,
                reading,
                unit));
        return OptionalDouble.of(reading);
    }

    @Override
    public void show(String line) {
        onlooker.show(line);
    }
}

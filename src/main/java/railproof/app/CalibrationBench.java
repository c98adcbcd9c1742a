package railproof.app;

import java.util.List;
import railproof.base.BadFileException;
import railproof.base.SystemClock;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.ChannelConfig;
import railproof.rig.file.SimulationConfig;
import railproof.sim.BenchClock;
import railproof.sim.SimulatedBench;

/**
 * The bench a calibration is done on: real ports and the operator, or a simulated bench with a simulated calibrator.
 *
 * @param access where the instruments are
 * @param calibrator who applies the levels
 */
record CalibrationBench(BenchAccess access, Calibrator calibrator) {
    static CalibrationBench open(CalibrationRequest request, List<ChannelConfig> channels, Calibrator operator)
            throws BadFileException {
        if (request.rig().config().simulation().isEmpty()) {
            return new CalibrationBench(
                    new BenchAccess(
                            SystemClock.INSTANCE, Benches.ports(request.rig().config()), false, ""),
                    operator);
        }
        SimulationConfig simulation = request.rig().config().simulation().get();
        // which unit is on the bench does not matter: the channels' leads are on the calibrator
        SimulatedBench bench = new SimulationSetup(
                        request.rig(), BuiltInFiles.profile("counter-5v").profile(), "")
                .build(channels);
        BenchAccess access = new BenchAccess(
                new BenchClock(bench, SystemClock.INSTANCE.wallTime()),
                Benches.memoryLinks(bench, request.rig().config()),
                true,
                "");
        return new CalibrationBench(
                access, new SimulatedCalibrator(bench, request.reference(), simulation.noiseSeed() + 1, operator));
    }
}

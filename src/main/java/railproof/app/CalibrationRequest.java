package railproof.app;

import java.nio.file.Path;
import java.time.Period;
import java.util.List;
import java.util.Optional;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.RigFile;

/**
 * What is to be calibrated.
 *
 * @param rig the rig, as its file says
 * @param channels names of channels in the rig file, at least one
 * @param reference the reference meter
 * @param levels levels to apply, in the channels' unit; empty for five from zero to nine tenths of full scale
 * @param validFor time until the calibration is due again
 * @param file where it is written; empty for where the rig file says
 */
public record CalibrationRequest(
        RigFile rig,
        List<String> channels,
        ChannelCalibration.Reference reference,
        List<Double> levels,
        Period validFor,
        Optional<Path> file) {
    public CalibrationRequest {
        channels = List.copyOf(channels);
        levels = List.copyOf(levels);
    }
}

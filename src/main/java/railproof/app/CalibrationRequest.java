package railproof.app;

import java.nio.file.Path;
import java.time.Period;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
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
    private static final String NUMBER = "(\\d+(?:\\.\\d*)?(?:[eE][-+]?\\d+)?)";
    private static final Pattern UNCERTAINTY =
            Pattern.compile("\\s*(?:" + NUMBER + "\\s*%)?\\s*\\+?\\s*(?:" + NUMBER + ")?\\s*");

    public CalibrationRequest {
        channels = List.copyOf(channels);
        levels = List.copyOf(levels);
    }

    /**
     * A reference meter with its standard uncertainty as people write it: {@code "0.003 % + 0.0002"} is 0.003 % of the
     * reading and 0.0002 in the channel's unit. Empty if it is not written like that.
     *
     * @param meter the meter with its serial number
     */
    public static Optional<ChannelCalibration.Reference> reference(String meter, String stated) {
        Matcher parts = UNCERTAINTY.matcher(stated);
        return parts.matches() && !stated.isBlank()
                ? Optional.of(
                        new ChannelCalibration.Reference(meter, number(parts.group(1)) / 100, number(parts.group(2))))
                : Optional.empty();
    }

    private static double number(@Nullable String text) {
        return text == null ? 0 : Double.parseDouble(text);
    }
}

package railproof.rig.file;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.profile.SourceText;
import railproof.rig.ChannelCalibration;
import railproof.toml.TextFile;
import railproof.toml.TomlDocument;

/**
 * A board's calibration with the text it came from.
 *
 * <p>Thread: immutable; reading is stateless.
 *
 * @param rig name of the rig it was made on
 * @param boardSerial serial number of the board it was made with; another board needs another calibration
 * @param channels by their names in the rig file
 * @param source its text and digest
 */
public record CalibrationFile(String rig, String boardSerial, Map<String, Entry> channels, SourceText source) {
    public CalibrationFile {
        channels = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(channels));
    }

    /**
     * One channel's calibration and what was seen when it was made.
     *
     * @param line the fitted line
     * @param evidence levels, readings and checks, for whoever wants to fit again
     */
    public record Entry(ChannelCalibration line, CalibrationEvidence evidence) {}

    /** The calibration of a channel; empty if it never was. */
    public Optional<ChannelCalibration> line(String channel) {
        return Optional.ofNullable(channels.get(channel)).map(Entry::line);
    }

    /**
     * Reads a calibration file.
     *
     * @param config the rig it belongs to: channels, units, and the board it must be of
     * @throws BadFileException with everything that is wrong with it
     */
    public static CalibrationFile read(Path file, RigConfig config) throws BadFileException {
        return parse(file.toString(), TextFile.read(file), config);
    }

    /**
     * Reads a calibration from its text.
     *
     * @param name how the text is called in messages
     * @throws BadFileException with everything that is wrong with it
     */
    public static CalibrationFile parse(String name, String text, RigConfig config) throws BadFileException {
        TomlDocument document = TomlDocument.parse(name, text);
        CalibrationFile file = new CalibrationReader(document.root(), config).read(SourceText.of(name, text));
        document.finish();
        return file;
    }
}

package railproof.rig.file;

import java.nio.file.Path;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.profile.SourceText;
import railproof.toml.TextFile;
import railproof.toml.TomlDocument;

/**
 * A rig with the text it came from.
 *
 * <p>Thread: immutable; reading is stateless.
 *
 * @param config what the file says
 * @param source its text and digest
 * @param calibrationFile where its calibration is; empty if it names none, or came with the program
 */
public record RigFile(RigConfig config, SourceText source, Optional<Path> calibrationFile) {
    /**
     * Reads a rig file.
     *
     * @throws BadFileException with everything that is wrong with it
     */
    public static RigFile read(Path file) throws BadFileException {
        RigFile rig = parse(file.toString(), TextFile.read(file));
        return new RigFile(
                rig.config(), rig.source(), rig.config().calibrationFile().map(file::resolveSibling));
    }

    /**
     * Reads a rig from its text.
     *
     * @param name how the text is called in messages
     * @throws BadFileException with everything that is wrong with it
     */
    public static RigFile parse(String name, String text) throws BadFileException {
        TomlDocument document = TomlDocument.parse(name, text);
        RigConfig config = new RigReader(document.root()).read();
        document.finish();
        return new RigFile(config, SourceText.of(name, text), Optional.empty());
    }
}

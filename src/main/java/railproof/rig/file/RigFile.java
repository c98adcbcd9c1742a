package railproof.rig.file;

import java.nio.file.Path;
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
 */
public record RigFile(RigConfig config, SourceText source) {
    /**
     * Reads a rig file.
     *
     * @throws BadFileException with everything that is wrong with it
     */
    public static RigFile read(Path file) throws BadFileException {
        return parse(file.toString(), TextFile.read(file));
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
        return new RigFile(config, SourceText.of(name, text));
    }
}

package railproof.cli;

import java.nio.file.Path;
import java.util.Optional;
import picocli.CommandLine.Option;
import railproof.app.Archiving;
import railproof.base.BadFileException;

/** Where runs are archived; for every command that takes runs in or reads them. */
final class ArchiveOption {
    @Option(
            names = "--archive",
            paramLabel = "URL",
            description = "archive shared by several benches: jdbc:postgresql://HOST/DATABASE?user=NAME; default: the"
                    + " rig file's archive_url, else RAILPROOF_ARCHIVE, else archive.sqlite in the data directory."
                    + " The password belongs in RAILPROOF_ARCHIVE_PASSWORD or the driver's password file")
    private Optional<String> url = Optional.empty();

    Archiving archiving(Optional<String> ofRig, Path data) throws BadFileException {
        return new Archiving(data, Archiving.address(url, ofRig, data));
    }
}

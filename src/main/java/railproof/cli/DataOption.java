package railproof.cli;

import java.nio.file.Path;
import picocli.CommandLine.Option;

/** Where run folders are kept; for every command that writes or reads them. */
final class DataOption {
    private static final String USUAL = "railproof-data";

    @Option(
            names = "--data",
            paramLabel = "DIR",
            defaultValue = USUAL,
            description = "where run folders are kept; default: ${DEFAULT-VALUE}")
    private Path directory = Path.of(USUAL);

    Path directory() {
        return directory;
    }
}

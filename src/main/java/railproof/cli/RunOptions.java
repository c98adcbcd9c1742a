package railproof.cli;

import java.nio.file.Path;
import picocli.CommandLine.Option;

/** What every command that makes a run can be told. */
final class RunOptions {
    @Option(
            names = "--data",
            paramLabel = "DIR",
            defaultValue = "railproof-data",
            description = "where run folders are kept; default: ${DEFAULT-VALUE}")
    private Path data = Path.of("railproof-data");

    @Option(names = "--operator", paramLabel = "NAME", defaultValue = "", description = "who runs it")
    private String operator = "";

    @Option(names = "--json", description = "print the results as JSON; of several units, as a list")
    private boolean json;

    @Option(names = "--real-time", description = "simulated bench only: as slow as a real one, slower if need be")
    private boolean realTime;

    Path data() {
        return data;
    }

    String operator() {
        return operator;
    }

    boolean json() {
        return json;
    }

    boolean realTime() {
        return realTime;
    }
}

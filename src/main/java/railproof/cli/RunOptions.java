package railproof.cli;

import java.nio.file.Path;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** What every command that makes a run can be told. */
final class RunOptions {
    @Mixin
    private DataOption data = new DataOption();

    @Option(names = "--operator", paramLabel = "NAME", defaultValue = "", description = "who runs it")
    private String operator = "";

    @Option(names = "--json", description = "print the results as JSON; of several units, as a list")
    private boolean json;

    @Option(names = "--real-time", description = "simulated bench only: as slow as a real one, slower if need be")
    private boolean realTime;

    Path data() {
        return data.directory();
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

package railproof.cli;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code railproof window}: the operator's window. */
@Command(
        name = "window",
        mixinStandardHelpOptions = true,
        description = {
            "Opens the operator's window: scan a serial number, tick the checklist, watch the run, read the verdict."
                    + " Escape stops from every screen.",
            ""
        })
final class WindowCommand implements Callable<Integer> {
    private final WindowOpener opener;

    @Option(
            names = "--rig",
            paramLabel = "FILE",
            defaultValue = "simulated-bench",
            description = "rig file, or the name of one that comes with the program; default: ${DEFAULT-VALUE}")
    private String rig = "simulated-bench";

    @Option(
            names = "--data",
            paramLabel = "DIR",
            defaultValue = "railproof-data",
            description = "where run folders are kept; default: ${DEFAULT-VALUE}")
    private Path data = Path.of("railproof-data");

    @Option(names = "--operator", paramLabel = "NAME", defaultValue = "", description = "who stands at the bench")
    private String operator = "";

    WindowCommand(WindowOpener opener) {
        this.opener = opener;
    }

    @Override
    public Integer call() throws InterruptedException {
        return opener.open(rig, data, operator).code();
    }
}

package railproof.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code railproof window}: the operator's window. */
@Command(
        name = "window",
        mixinStandardHelpOptions = true,
        description = {
            "Opens the operator's window: tests from the serial number to the verdict, the burn-in wall, history,"
                    + " diagnosis, rig check and calibration, rig and profile files. Escape stops from every screen.",
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

    @Mixin
    private DataOption data = new DataOption();

    @Option(names = "--operator", paramLabel = "NAME", defaultValue = "", description = "who stands at the bench")
    private String operator = "";

    @Parameters(
            arity = "0..1",
            paramLabel = "FILE",
            description = "rig or profile file to be edited; the window opens with it")
    private Optional<Path> file = Optional.empty();

    WindowCommand(WindowOpener opener) {
        this.opener = opener;
    }

    @Override
    public Integer call() throws InterruptedException {
        return opener.open(rig, data.directory(), operator, file).code();
    }
}

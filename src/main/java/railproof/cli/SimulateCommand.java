package railproof.cli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import railproof.app.BenchServer;
import railproof.app.ExitStatus;
import railproof.app.SimulationSetup;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.rig.file.LinkConfig;
import railproof.rig.file.RigFile;
import railproof.wire.LinkException;

/** {@code railproof simulate}: the simulated instruments on serial ports. */
@Command(
        name = "simulate",
        mixinStandardHelpOptions = true,
        description = {
            "Serves the simulated instruments of a rig file on serial ports, in real time, until stopped by Ctrl-C: to"
                    + " practise with real cables, or to try another program's side of the protocol. Prints a line"
                    + " whenever load or line change.",
            ""
        },
        footer = {
            "",
            "Example:  railproof simulate --rig simulated-bench --profile counter-5v --port board=/dev/ttyACM3 \\",
            "                             --port load-1=/dev/ttyUSB1 --port line-source=/dev/ttyUSB2"
        })
final class SimulateCommand implements Callable<Integer> {
    private final Screen screen;

    @Option(names = "--rig", required = true, paramLabel = "FILE", description = "rig file with a [simulation]")
    private String rig = "";

    @Option(names = "--profile", required = true, paramLabel = "FILE", description = "profile of the simulated unit")
    private String profile = "";

    @Option(
            names = "--sim-fault",
            paramLabel = "NAME[:SEVERITY]",
            description =
                    "break the simulated unit, e.g. reservoir-low-capacitance:0.8; " + "an unknown name lists all")
    private String simFault = "";

    @Option(
            names = "--port",
            required = true,
            paramLabel = "LINK=PATH",
            description = "serve the rig file's link on this port; repeat for every link")
    private Map<String, String> ports = new LinkedHashMap<>();

    @Option(
            names = "--lockstep",
            paramLabel = "PATH",
            description = "let the other side move simulated time, over this port, instead of the wall clock")
    private Optional<String> lockstep = Optional.empty();

    SimulateCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, LinkException, InterruptedException {
        RigFile rigFile = Inputs.rig(rig);
        ProfileFile profileFile = Inputs.profile(profile);
        for (String name : ports.keySet()) {
            if (rigFile.config().links().stream().map(LinkConfig::name).noneMatch(name::equals)) {
                throw new BadFileException(
                        List.of(new Problem("command line", 0, 0, "--port", "the rig has no link \"" + name + "\"")));
            }
        }
        SimulationSetup setup = new SimulationSetup(rigFile, profileFile.profile(), simFault);
        BenchServer server = new BenchServer(setup, rigFile.config(), ports);
        Runtime.getRuntime().addShutdownHook(new Thread(server::stop, "stop-serving"));
        screen.say("Serving " + setup.words() + " on " + String.join(", ", ports.keySet()));
        if (lockstep.isPresent()) {
            server.serveLockstep(lockstep.get(), screen::print);
        } else {
            server.serve(screen::print);
        }
        return ExitStatus.PASSED.code();
    }
}

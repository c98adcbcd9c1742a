package railproof.cli;

import java.io.InputStream;
import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Optional;
import java.util.function.IntConsumer;
import picocli.CommandLine;
import railproof.app.ExitStatus;

/**
 * The command line's front door: parses, runs the command, turns every trouble into a message and an exit status.
 *
 * <p>Thread: one call of {@link #run} per instance.
 */
public final class CommandLineFace {
    /** What runs when nothing is asked for: the main job, on the simulated bench. */
    private static final String[] DEMONSTRATION = {
        "test", "--rig", "simulated-bench", "--profile", "counter-5v", "--unit", "DEMO-0001"
    };

    private final Screen screen;
    private final Optional<WindowOpener> window;

    /** A face on these streams, without the command that opens a window. */
    public CommandLineFace(PrintStream out, PrintStream err, InputStream in) {
        this(out, err, in, Optional.empty());
    }

    /** A face on these streams, and a way to open a window. */
    public CommandLineFace(PrintStream out, PrintStream err, InputStream in, WindowOpener window) {
        this(out, err, in, Optional.of(window));
    }

    private CommandLineFace(PrintStream out, PrintStream err, InputStream in, Optional<WindowOpener> window) {
        this.window = window;
        screen = new Screen(writer(out), writer(err), in);
    }

    private static PrintWriter writer(PrintStream stream) {
        return new PrintWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), true);
    }

    /** What to do with the exit status when the process is already being ended by a signal. */
    public void onInterruptedExit(IntConsumer halt) {
        screen.onInterruptedExit(halt);
    }

    /**
     * Runs one command.
     *
     * @return the exit status, one of {@link ExitStatus}
     */
    public int run(String... args) {
        String[] asked = args;
        if (args.length == 0) {
            screen.say("No command given: showing the main job on the built-in simulated bench.");
            screen.say("For everything else: railproof --help");
            screen.say("");
            asked = DEMONSTRATION;
        }
        CommandLine line = new CommandLine(new RailproofCommand());
        line.addSubcommand(new TestCommand(screen));
        line.addSubcommand(new BurnInCommand(screen));
        line.addSubcommand(new JudgeCommand(screen));
        line.addSubcommand(new CompareCommand(screen));
        line.addSubcommand(new DiagnoseCommand(screen));
        line.addSubcommand(new SignOffCommand(screen));
        line.addSubcommand(new VerifyCommand(screen));
        line.addSubcommand(new HistoryCommand(screen));
        line.addSubcommand(new ArchiveCommand(screen));
        line.addSubcommand(new CheckRigCommand(screen));
        line.addSubcommand(new CalibrateCommand(screen));
        line.addSubcommand(new PortsCommand(screen));
        line.addSubcommand(new SimulateCommand(screen));
        window.ifPresent(opener -> line.addSubcommand(new WindowCommand(opener)));
        line.setOut(screen.out());
        line.setErr(screen.err());
        line.setResourceBundle(null);
        line.setCaseInsensitiveEnumValuesAllowed(true);
        line.setUsageHelpAutoWidth(false);
        line.setUsageHelpWidth(96);
        line.setParameterExceptionHandler(this::badCommandLine);
        line.setExecutionExceptionHandler(
                (e, failed, parsed) -> Troubles.tell(screen, e).code());
        line.setExitCodeExceptionMapper(e -> ExitStatus.BAD_INPUT.code());
        int status = line.execute(asked);
        screen.flush();
        return status;
    }

    private int badCommandLine(CommandLine.ParameterException e, String[] args) {
        CommandLine failed = e.getCommandLine();
        if (e instanceof CommandLine.UnmatchedArgumentException unmatched) {
            screen.say("Not understood: " + String.join(" ", unmatched.getUnmatched()));
        } else {
            screen.say(String.valueOf(e.getMessage()));
        }
        if (!CommandLine.UnmatchedArgumentException.printSuggestions(e, screen.err())) {
            screen.say(String.format(
                    Locale.ROOT, "See: %s --help", failed.getCommandSpec().qualifiedName()));
        }
        return ExitStatus.BAD_INPUT.code();
    }
}

package railproof.cli;

import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import railproof.app.Version;

/** The program's name on the command line; the work is in its commands. */
@Command(
        name = "railproof",
        mixinStandardHelpOptions = true,
        versionProvider = RailproofCommand.VersionLine.class,
        description = {
            "Proves that a repaired power supply holds its voltage, or shows where it does not: sweeps load and line,"
                    + " logs output and ripple, finds the current limit, judges against the profile.",
            ""
        },
        synopsisSubcommandLabel = "COMMAND",
        commandListHeading = "%nCommands:%n",
        footerHeading = "%nExit status:%n",
        footer = {
            "  0  everything passed",
            "  1  the unit failed a limit",
            "  2  bad command line, or a file that cannot be used",
            "  3  rig trouble or a stop; everything is off, and that is confirmed",
            "  4  not judged, or a conditional verdict",
            "  5  NOT CONFIRMED that everything is off: look at the bench",
            "",
            "The unit's mains side and its capacitors can kill. What this program measures does not replace your own"
                    + " meter, local codes, or a licensed person where one is required."
        })
final class RailproofCommand implements Runnable {
    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Override
    public void run() {
        throw new ParameterException(spec.commandLine(), "a command is needed");
    }

    /** Prints the version. */
    static final class VersionLine implements picocli.CommandLine.IVersionProvider {
        @Override
        public String[] getVersion() {
            return new String[] {"railproof " + Version.text()};
        }
    }
}

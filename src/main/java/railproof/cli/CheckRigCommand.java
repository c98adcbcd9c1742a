package railproof.cli;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import railproof.app.ExitStatus;
import railproof.app.RigCheck;
import railproof.base.BadFileException;
import railproof.profile.ProfileFile;
import railproof.rig.file.RigFile;
import railproof.wire.LinkException;

/** {@code railproof check-rig}: is the rig file right, and does everything answer. */
@Command(
        name = "check-rig",
        mixinStandardHelpOptions = true,
        description = {
            "Reads a rig file, opens every link, switches every instrument off, asks each who it is, reads every"
                    + " channel once. Switches nothing on. With --profile it also says which rail of that supply goes"
                    + " to which position.",
            ""
        })
final class CheckRigCommand implements Callable<Integer> {
    private final Screen screen;

    @Option(
            names = "--rig",
            required = true,
            paramLabel = "FILE",
            description = "rig file, or the name of one that comes with the program")
    private String rig = "";

    @Option(names = "--profile", paramLabel = "FILE", description = "also check that this supply fits the rig")
    private Optional<String> profile = Optional.empty();

    @Option(names = "--files-only", description = "check the files and open nothing")
    private boolean filesOnly;

    @Option(names = "--json", description = "print the result as JSON")
    private boolean json;

    CheckRigCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, LinkException {
        RigFile rigFile = Inputs.rig(rig);
        Optional<ProfileFile> profileFile =
                profile.isPresent() ? Optional.of(Inputs.profile(profile.get())) : Optional.empty();
        RigCheck check = new RigCheck(rigFile, profileFile);
        List<RigCheck.Finding> findings = filesOnly ? check.files() : check.everything();
        boolean good = findings.stream().allMatch(RigCheck.Finding::good);
        if (json) {
            screen.out().print(ListJson.findings(findings));
        } else {
            for (RigCheck.Finding finding : findings) {
                screen.print((finding.good() ? "ok       " : "TROUBLE  ") + finding.what() + ": " + finding.found());
            }
        }
        return (good ? ExitStatus.PASSED : ExitStatus.RIG_TROUBLE).code();
    }
}

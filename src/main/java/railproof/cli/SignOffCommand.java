package railproof.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import railproof.app.ExitStatus;
import railproof.app.SignOffService;
import railproof.base.BadFileException;
import railproof.base.SystemClock;
import railproof.judge.SignOff;
import railproof.judge.Verdict;
import railproof.record.RecordException;

/** {@code railproof sign-off}: somebody puts their name to a run. */
@Command(
        name = "sign-off",
        mixinStandardHelpOptions = true,
        description = {
            "Signs a run off before the unit ships: who, when, and what they checked themselves beside what the run"
                    + " measured. Refused for a run that is incomplete, unsafe, simulated, failed, not wholly judged,"
                    + " as-found, or changed since it was sealed, and when the calibration was expired or missing;"
                    + " every reason is given. A conditional verdict needs --reason. The certificate is made again with"
                    + " the name on it, and everything is sealed.",
            ""
        },
        footer = {
            "",
            "Exit status: 0 signed off; 4 refused; 2 bad command line or a file that cannot be used.",
            "",
            "Example:  railproof sign-off 20261125T101530Z_TM-0417_as-left --operator \"m. k.\" \\",
            "              --checked \"insulation, inlet to chassis\" --checked \"earth bond\" --checked \"fuse ratings\""
        })
final class SignOffCommand implements Callable<Integer> {
    private final Screen screen;

    @Mixin
    private ArchiveOption archive = new ArchiveOption();

    @Parameters(paramLabel = "RUN", description = "run folder, or its name in the data directory")
    private String run = "";

    @Option(names = "--operator", required = true, paramLabel = "NAME", description = "who signs off")
    private String operator = "";

    @Option(
            names = "--checked",
            required = true,
            paramLabel = "WHAT",
            description = "what was checked; may be given several times")
    private List<String> checked = List.of();

    @Option(names = "--reason", paramLabel = "TEXT", description = "why a conditional verdict is accepted")
    private String reason = "";

    @Option(
            names = "--before",
            paramLabel = "RUN",
            description = "the unit's as-found run, to be drawn beside the curves of this one")
    private Optional<String> before = Optional.empty();

    @Option(
            names = "--training",
            description = "an exercise on a simulated run, marked as such everywhere; its bench need not be calibrated")
    private boolean training;

    @Mixin
    private DataOption data = new DataOption();

    @Option(names = "--json", description = "print the result as JSON")
    private boolean json;

    SignOffCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, RecordException {
        Path folder = Inputs.run(run, data.directory());
        Optional<Path> beside =
                before.isPresent() ? Optional.of(Inputs.run(before.get(), data.directory())) : Optional.empty();
        SignOff asked =
                new SignOff(operator, checked, SystemClock.INSTANCE.wallTime(), reason, training, Verdict.NOT_JUDGED);
        SignOffService.Result result = SignOffService.signOff(folder, asked, beside);
        if (json) {
            screen.out().print(ListJson.signOff(result));
        } else if (result.refusals().isEmpty()) {
            screen.print("Signed off by " + result.signOff().by() + ", "
                    + result.signOff().verdict().words() + (training ? " (training)" : ""));
        } else {
            screen.print("Not signed off:");
            result.refusals().forEach(refusal -> screen.print("  " + refusal));
        }
        if (result.refusals().isEmpty()) {
            archive.archiving(Optional.empty(), data.directory())
                    .changed(folder)
                    .forEach(screen::say);
        }
        return (result.refusals().isEmpty() ? ExitStatus.PASSED : ExitStatus.NOT_JUDGED).code();
    }
}

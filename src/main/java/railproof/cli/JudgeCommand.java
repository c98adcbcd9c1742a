package railproof.cli;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import railproof.app.ExitStatus;
import railproof.app.Sealing;
import railproof.base.BadFileException;
import railproof.base.SystemClock;
import railproof.judge.Budget;
import railproof.judge.Judge;
import railproof.judge.Judgement;
import railproof.profile.ProfileFile;
import railproof.record.JudgementJson;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.record.RunJson;
import railproof.report.BudgetTable;
import railproof.report.VerdictTable;
import railproof.run.RunData;

/** {@code railproof judge}: an archived run against its own or another profile. */
@Command(
        name = "judge",
        mixinStandardHelpOptions = true,
        description = {
            "Judges an archived run again, against the profile it was run with or another one. Needs no hardware; the"
                    + " run's own verdict stays as it is, the new one is kept beside it.",
            ""
        })
final class JudgeCommand implements Callable<Integer> {
    private final Screen screen;

    @Parameters(paramLabel = "RUN", description = "run folder, or its name in the data directory")
    private String run = "";

    @Option(
            names = "--profile",
            paramLabel = "FILE",
            description = "other profile: a file, or the name of one that comes with the program")
    private Optional<String> profile = Optional.empty();

    @Mixin
    private DataOption data = new DataOption();

    @Option(names = "--budget", description = "also print the uncertainty budget of every judged value")
    private boolean budget;

    @Option(names = "--json", description = "print the result as JSON")
    private boolean json;

    JudgeCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, RecordException {
        Path folder = Inputs.run(run, data.directory());
        RunData archived = RunFolder.read(folder);
        ProfileFile against = profile.isPresent()
                ? Inputs.profile(profile.get())
                : ProfileFile.parse(archived.header().profile());
        Judgement judgement =
                Judge.judge(archived, against.profile(), against.source().sha256());
        keep(folder, judgement);
        if (json) {
            screen.print(RunJson.result(archived, Optional.of(judgement)));
        } else {
            screen.out().print(VerdictTable.text(archived, judgement));
            if (budget) {
                screen.out().print(BudgetTable.text(Budget.of(archived, judgement)));
            }
        }
        return ExitStatus.ofArchived(archived.outcome(), judgement).code();
    }

    private void keep(Path folder, Judgement judgement) throws RecordException {
        try {
            Sealing.keep(
                    folder,
                    RunFolder.laterVerdictName(judgement),
                    JudgementJson.write(judgement).getBytes(StandardCharsets.UTF_8),
                    SystemClock.INSTANCE.wallTime());
        } catch (BadFileException e) {
            screen.say("This verdict is not kept beside the run: " + e.getMessage());
        }
    }
}

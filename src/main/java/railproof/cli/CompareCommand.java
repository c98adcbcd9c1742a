package railproof.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import railproof.app.ExitStatus;
import railproof.base.BadFileException;
import railproof.judge.Comparison;
import railproof.judge.Judge;
import railproof.judge.Judgement;
import railproof.profile.ProfileFile;
import railproof.record.ComparisonJson;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.report.ComparisonPage;
import railproof.report.ComparisonTable;
import railproof.run.RunData;

/** {@code railproof compare}: two runs of a unit, differences with uncertainty. */
@Command(
        name = "compare",
        mixinStandardHelpOptions = true,
        description = {
            "Compares two runs of a unit, as a rule as-found and as-left: what changed, by how much, and whether the"
                    + " difference is more than the measurement's own uncertainty. Both are judged against the second"
                    + " run's profile.",
            ""
        })
final class CompareCommand implements Callable<Integer> {
    private final Screen screen;

    @Parameters(index = "0", paramLabel = "BEFORE", description = "run folder, or its name in the data directory")
    private String before = "";

    @Parameters(index = "1", paramLabel = "AFTER", description = "run folder, or its name in the data directory")
    private String after = "";

    @Mixin
    private DataOption data = new DataOption();

    @Option(
            names = "--page",
            paramLabel = "FILE",
            description = "also write a page to print (HTML): both runs on the same axes, differences, what changed")
    private Optional<Path> page = Optional.empty();

    @Option(names = "--json", description = "print the result as JSON")
    private boolean json;

    CompareCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, RecordException {
        RunData first = RunFolder.read(Inputs.run(before, data.directory()));
        RunData second = RunFolder.read(Inputs.run(after, data.directory()));
        ProfileFile profile = ProfileFile.parse(second.header().profile());
        Judgement firstJudgement =
                Judge.judge(first, profile.profile(), profile.source().sha256());
        Judgement secondJudgement =
                Judge.judge(second, profile.profile(), profile.source().sha256());
        Comparison comparison = Comparison.of(first, firstJudgement, second, secondJudgement);
        if (page.isPresent()) {
            Path file = page.get().toAbsolutePath();
            RunFolder.writeFile(file, ComparisonPage.html(first, second, profile.profile(), comparison));
            screen.say("Page: " + file);
        }
        if (json) {
            screen.print(ComparisonJson.write(comparison));
        } else {
            screen.out().print(ComparisonTable.text(comparison));
        }
        return ExitStatus.ofArchived(second.outcome(), secondJudgement).code();
    }
}

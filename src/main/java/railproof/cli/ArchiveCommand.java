package railproof.cli;

import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import railproof.app.Archiving;
import railproof.app.ExitStatus;
import railproof.archive.RunFilter;
import railproof.archive.store.Archive;
import railproof.archive.store.ArchiveException;
import railproof.base.BadFileException;
import railproof.record.RecordException;

/** {@code railproof archive}: brings the archive up to date with the run folders. */
@Command(
        name = "archive",
        mixinStandardHelpOptions = true,
        description = {
            "Takes run folders into the archive that it does not have yet: runs that ended while the database could not"
                    + " be reached, or folders copied here. Commands do that by themselves; this one says what came of"
                    + " it.",
            ""
        },
        footer = {"", "Exit status: 0; 2 bad command line; 3 the archive cannot be reached; 4 a run cannot be read."})
final class ArchiveCommand implements Callable<Integer> {
    private final Screen screen;

    @Mixin
    private ArchiveOption archive = new ArchiveOption();

    @Option(
            names = "--rebuild",
            description = "read all run folders again; an archive in the data directory is made new, in a shared one"
                    + " the runs of other benches stay")
    private boolean rebuild;

    @Mixin
    private DataOption data = new DataOption();

    ArchiveCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, ArchiveException, RecordException {
        Archiving archiving = archive.archiving(Optional.empty(), data.directory());
        if (rebuild) {
            screen.say(archiving.rebuild() + " runs read again.");
        }
        try (Archive open = archiving.open()) {
            screen.print(open.count(RunFilter.ALL) + " runs in the archive.");
        }
        archiving.troubles().stream().distinct().forEach(screen::say);
        return (archiving.troubles().isEmpty() ? ExitStatus.PASSED : ExitStatus.NOT_JUDGED).code();
    }
}

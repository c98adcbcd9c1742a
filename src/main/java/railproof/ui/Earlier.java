package railproof.ui;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import railproof.app.Archiving;
import railproof.archive.ArchivedRun;
import railproof.archive.RunFilter;
import railproof.archive.store.Archive;
import railproof.archive.store.ArchiveException;
import railproof.base.BadFileException;
import railproof.record.RecordException;
import railproof.run.Stage;

/** Finds the run to compare with. Reads the archive, so not on the window's thread. */
final class Earlier {
    private Earlier() {}

    /** The last as-found run of the same unit and type that began before this one. */
    static Optional<KeptRun> asFound(Archiving archiving, KeptRun run)
            throws ArchiveException, RecordException, BadFileException {
        RunFilter filter = new RunFilter(
                Optional.of(run.unit()),
                Optional.of(run.profile().profile().id()),
                Optional.empty(),
                Optional.of(Stage.AS_FOUND.label()),
                Optional.empty(),
                Optional.of(run.run().header().startedAt()),
                Optional.of(run.simulated()));
        try (Archive archive = archiving.open()) {
            List<ArchivedRun> found = archive.runs(filter, 1);
            return found.isEmpty()
                    ? Optional.empty()
                    : Optional.of(KeptRun.read(Path.of(found.get(0).folder())));
        }
    }
}

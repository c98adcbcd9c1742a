package railproof.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import railproof.archive.ArchivedCheck;
import railproof.archive.ArchivedRun;
import railproof.archive.store.Archive;
import railproof.archive.store.ArchiveAddress;
import railproof.archive.store.ArchiveException;
import railproof.base.BadFileException;
import railproof.judge.Judgement;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.record.RunSummary;

/**
 * Takes the runs of one data directory into an archive. What could not be taken in is remembered by an empty file of the
 * run's name in {@code not-archived/} and caught up by whatever reaches the archive next; so is a run folder the archive
 * has never heard of.
 *
 * <p>Thread: one.
 */
public final class Archiving {
    /** Says which archive, where no option does. */
    public static final String VARIABLE = "RAILPROOF_ARCHIVE";
    /** The archive's password. */
    public static final String PASSWORD_VARIABLE = "RAILPROOF_ARCHIVE_PASSWORD";

    private static final String WAITING = "not-archived";
    private static final int RUNS_AT_ONCE = 200;

    private final Path data;
    private final ArchiveAddress address;
    private final List<String> troubles = new ArrayList<>();

    /** The runs of that data directory, and that archive. */
    public Archiving(Path data, ArchiveAddress address) {
        this.data = data;
        this.address = address;
    }

    /**
     * Which archive is meant: the option's, else the rig file's, else the environment's, else the file in the data
     * directory.
     *
     * @throws BadFileException if it is no address
     */
    public static ArchiveAddress address(Optional<String> option, Optional<String> ofRig, Path data)
            throws BadFileException {
        String password = Optional.ofNullable(System.getenv(PASSWORD_VARIABLE)).orElse("");
        Optional<String> variable = Optional.ofNullable(System.getenv(VARIABLE)).filter(text -> !text.isBlank());
        if (option.isPresent()) {
            return ArchiveAddress.of("--archive", option.get(), password);
        }
        if (ofRig.isPresent()) {
            return ArchiveAddress.of("archive_url of the rig file", ofRig.get(), password);
        }
        return variable.isPresent()
                ? ArchiveAddress.of(VARIABLE, variable.get(), password)
                : ArchiveAddress.inFolder(data);
    }

    /** What went wrong with single runs, in words; they are left out, the others are taken in. */
    public List<String> troubles() {
        return List.copyOf(troubles);
    }

    /**
     * Takes a run in that is new or was added to, and whatever is waiting.
     *
     * @return what went wrong, in words; the run folder is whole, and is caught up
     */
    public List<String> changed(Path folder) {
        try {
            remember(folder);
            open().close();
            return troubles();
        } catch (ArchiveException e) {
            return List.of("Not in the archive yet, the next command that reaches it catches up: " + e.getMessage());
        } catch (RecordException e) {
            return List.of("Not in the archive: " + e.getMessage());
        }
    }

    /**
     * Opens the archive with everything of this data directory in it.
     *
     * @throws ArchiveException if it cannot be reached
     * @throws RecordException if the data directory cannot be read
     */
    public Archive open() throws ArchiveException, RecordException {
        Archive archive = Archive.open(address);
        boolean ready = false;
        try {
            catchUp(archive);
            ready = true;
            return archive;
        } finally {
            if (!ready) {
                archive.close();
            }
        }
    }

    /**
     * Makes the archive new from the run folders. One in the data directory is emptied first; in one that is shared,
     * the runs of other benches stay as they are.
     *
     * @return how many runs were taken in
     * @throws ArchiveException if it cannot be reached
     * @throws RecordException if the data directory cannot be read
     */
    public int rebuild() throws ArchiveException, RecordException {
        boolean own = address.toString().equals(ArchiveAddress.inFolder(data).toString());
        try (Archive archive = own ? fresh() : Archive.open(address)) {
            List<String> waiting = waiting();
            int taken =
                    ingest(archive, entries().stream().filter(RunFolder::isRun).toList());
            forget(waiting);
            return taken;
        }
    }

    private Archive fresh() throws ArchiveException, RecordException {
        try {
            Archive archive = Archive.open(address);
            archive.clear();
            return archive;
        } catch (ArchiveException e) {
            // damaged: what it held is in the run folders
            for (String end : List.of("", "-wal", "-shm", "-journal")) {
                Path file = data.resolve(ArchiveAddress.FILE + end);
                try {
                    Files.deleteIfExists(file);
                } catch (IOException cause) {
                    throw new RecordException("remove the damaged archive", file, cause);
                }
            }
            return Archive.open(address);
        }
    }

    private void catchUp(Archive archive) throws ArchiveException, RecordException {
        // names first: asking the disk of every folder whether it is a run takes longer than all the rest
        List<Path> entries = entries();
        Set<String> known = archive.known(entries.stream()
                .map(entry -> String.valueOf(entry.getFileName()))
                .toList());
        Set<String> waiting = new HashSet<>(waiting());
        List<Path> missing = new ArrayList<>();
        for (Path entry : entries) {
            String name = String.valueOf(entry.getFileName());
            if ((waiting.contains(name) || !known.contains(name)) && RunFolder.isRun(entry)) {
                missing.add(entry);
            }
        }
        ingest(archive, missing);
        // only what was waiting before its folder was read: it may have been added to since
        forget(waiting);
    }

    private int ingest(Archive archive, List<Path> folders) throws ArchiveException, RecordException {
        int taken = 0;
        List<Archive.Entry> entries = new ArrayList<>();
        for (Path folder : folders) {
            if (RunFolder.inUse(folder)) {
                continue;
            }
            try {
                entries.add(entry(folder));
            } catch (BadFileException e) {
                troubles.add("Not in the archive: run " + folder.getFileName() + ": " + e.getMessage());
            }
            if (entries.size() == RUNS_AT_ONCE) {
                archive.ingest(entries);
                taken += entries.size();
                entries.clear();
            }
        }
        archive.ingest(entries);
        return taken + entries.size();
    }

    /** A run folder as the archive has it. */
    static Archive.Entry entry(Path folder) throws BadFileException {
        RunSummary summary = RunSummary.of(folder);
        ArchivedRun run =
                ArchivedRun.of(summary, folder.toAbsolutePath().normalize().toString());
        List<ArchivedCheck> checks = new ArrayList<>();
        for (int i = 0;
                i < summary.judgement().map(Judgement::checks).orElse(List.of()).size();
                i++) {
            checks.add(ArchivedCheck.of(
                    run.key(), i, summary.judgement().orElseThrow().checks().get(i)));
        }
        return new Archive.Entry(run, checks);
    }

    private List<Path> entries() throws RecordException {
        if (!Files.isDirectory(data)) {
            return List.of();
        }
        try (Stream<Path> entries = Files.list(data)) {
            return entries.sorted().toList();
        } catch (IOException e) {
            throw new RecordException("list the runs", data, e);
        }
    }

    private void remember(Path folder) throws RecordException {
        Path waiting = data.resolve(WAITING);
        try {
            Files.createDirectories(waiting);
            Files.write(waiting.resolve(String.valueOf(folder.getFileName())), new byte[0]);
        } catch (IOException e) {
            throw new RecordException("remember the run", waiting, e);
        }
    }

    private List<String> waiting() throws RecordException {
        Path waiting = data.resolve(WAITING);
        if (!Files.isDirectory(waiting)) {
            return List.of();
        }
        try (Stream<Path> names = Files.list(waiting)) {
            return names.map(name -> String.valueOf(name.getFileName())).toList();
        } catch (IOException e) {
            throw new RecordException("list what waits for the archive", waiting, e);
        }
    }

    private void forget(Iterable<String> names) throws RecordException {
        for (String waiting : names) {
            Path name = data.resolve(WAITING).resolve(waiting);
            try {
                Files.deleteIfExists(name);
            } catch (IOException e) {
                throw new RecordException("forget the run", name, e);
            }
        }
    }
}

package railproof.record;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import railproof.profile.SourceText;
import railproof.run.RunEvent;
import railproof.run.RunEvent.PointTaken;
import railproof.run.RunEvent.RunEnded;
import railproof.run.RunEvent.WaveformTaken;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;

/**
 * Writes a run into its folder while it goes. What {@link #append} has returned from is on the medium; the program may
 * be killed at any instant and everything appended is there and reads as an incomplete run.
 *
 * <p>When a write fails the same event may be appended again, e.g. after room was made; nothing half-written stays
 * before it.
 *
 * <p>Thread: one at a time.
 */
public final class RunFolderWriter implements AutoCloseable {
    private static final int MOST_NAMESAKES = 1000;

    private final Store store;
    private final Path folder;
    private final RunHeader header;
    private final RecordFile points;
    private final RecordFile events;
    private Optional<FolderLock> lock = Optional.empty();
    private boolean ended;

    private RunFolderWriter(Store store, Path folder, RunHeader header, RecordFile points, RecordFile events) {
        this.store = store;
        this.folder = folder;
        this.header = header;
        this.points = points;
        this.events = events;
    }

    /**
     * Makes the run's folder and writes everything known before the first point.
     *
     * @param dataDirectory where runs are kept; made if it is not there
     * @param header its run id names the folder; made safe as a file name, and numbered if there is such a folder
     * @throws RecordException if the disk refuses
     * @throws IllegalArgumentException if a snapshot's digest is not the digest of its text
     */
    public static RunFolderWriter open(Path dataDirectory, RunHeader header) throws RecordException {
        RunFolderWriter writer = open(DiskStore.INSTANCE, dataDirectory, header);
        writer.lock = FolderLock.take(writer.folder());
        return writer;
    }

    /** A writer that adds to a run that broke off. */
    static RunFolderWriter goingOn(
            Path folder, RunHeader header, RecordFile points, RecordFile events, FolderLock lock) {
        RunFolderWriter writer = new RunFolderWriter(DiskStore.INSTANCE, folder, header, points, events);
        writer.lock = Optional.of(lock);
        return writer;
    }

    static RunFolderWriter open(Store store, Path dataDirectory, RunHeader header) throws RecordException {
        for (SourceText source : List.of(header.profile(), header.rig(), header.calibration())) {
            if (!Digests.fits(source.text(), source.sha256())) {
                throw new IllegalArgumentException("the digest of " + source.name() + " is not that of its text");
            }
        }
        Path folder = newFolder(store, dataDirectory, RunIds.fileName(header.runId()));
        RunHeader named = withRunId(header, String.valueOf(folder.getFileName()));
        Path waveforms = folder.resolve(WaveformTable.FOLDER);
        try {
            store.makeNewFolder(waveforms);
        } catch (IOException e) {
            throw new RecordException("make the folder", waveforms, e);
        }
        whole(store, folder.resolve(RunJson.PROFILE_FILE), header.profile().text());
        whole(store, folder.resolve(RunJson.RIG_FILE), header.rig().text());
        whole(
                store,
                folder.resolve(RunJson.CALIBRATION_FILE),
                header.calibration().text());
        RecordFile points = RecordFile.create(store, folder.resolve(PointsTable.FILE), PointsTable.heading());
        @Nullable RecordFile events = null;
        try {
            events = RecordFile.create(store, folder.resolve(EventJson.FILE), "");
            // last, because a folder without it is no run
            whole(store, folder.resolve(RunJson.FILE), Json.page(RunJson.header(named)));
            sync(store, dataDirectory);
            return new RunFolderWriter(store, folder, named, points, events);
        } catch (RecordException e) {
            closeAfter(e, points);
            if (events != null) {
                closeAfter(e, events);
            }
            throw e;
        }
    }

    /** The run's folder. */
    public Path folder() {
        return folder;
    }

    /** The header as written: its run id is the folder's name. */
    public RunHeader header() {
        return header;
    }

    /**
     * Puts an event on the medium; returns when it is there. {@link RunEnded} is the last one.
     *
     * @throws RecordException if the disk refuses; names the file
     * @throws IllegalStateException after the end
     * @throws IllegalArgumentException if the event holds what a record cannot say, e.g. a number that is not finite
     */
    public void append(RunEvent event) throws RecordException {
        if (ended) {
            throw new IllegalStateException("the run " + header.runId() + " has ended");
        }
        if (event instanceof PointTaken taken) {
            points.append(PointsTable.line(taken.point()));
        } else if (event instanceof RunEnded end) {
            end(end);
        } else {
            if (event instanceof WaveformTaken taken) {
                int id = taken.waveform().id();
                Path file = folder.resolve(WaveformTable.FOLDER).resolve(WaveformTable.fileName(id));
                whole(store, file, WaveformTable.text(taken.waveform()));
            }
            events.append(Json.line(EventJson.of(event)) + "\n");
        }
    }

    private void end(RunEnded end) throws RecordException {
        if (end.outcome().end() == RunOutcome.End.INCOMPLETE) {
            throw new IllegalArgumentException("a run that is incomplete has no end to write");
        }
        whole(store, folder.resolve(RunFolder.END_FILE), Json.page(EventJson.of(end)));
        ended = true;
    }

    /** Closes the files. Without an end before, the run stays incomplete. May be called twice. */
    @Override
    public void close() throws RecordException {
        try (events) {
            points.close();
        } finally {
            letGo();
        }
    }

    private void letGo() throws RecordException {
        if (lock.isPresent() && ended) {
            lock.get().closeForGood();
        } else if (lock.isPresent()) {
            lock.get().close();
        }
        lock = Optional.empty();
    }

    private static Path newFolder(Store store, Path dataDirectory, String name) throws RecordException {
        Path folder = dataDirectory.resolve(name);
        try {
            store.makeFolders(dataDirectory);
            for (int namesake = 2; namesake < MOST_NAMESAKES; namesake++) {
                try {
                    store.makeNewFolder(folder);
                    return folder;
                } catch (FileAlreadyExistsException e) {
                    folder = dataDirectory.resolve(name + "_" + namesake);
                }
            }
            throw new FileAlreadyExistsException(folder.toString(), null, "so many runs of one name are no accident");
        } catch (IOException e) {
            throw new RecordException("make the folder", folder, e);
        }
    }

    private static void whole(Store store, Path file, String text) throws RecordException {
        RecordFile.writeWhole(store, file, text.getBytes(StandardCharsets.UTF_8));
    }

    private static void sync(Store store, Path folder) throws RecordException {
        try {
            store.syncFolder(folder);
        } catch (IOException e) {
            throw new RecordException("keep the folder", folder, e);
        }
    }

    private static void closeAfter(RecordException first, RecordFile file) {
        try {
            file.close();
        } catch (RecordException e) {
            first.addSuppressed(e);
        }
    }

    private static RunHeader withRunId(RunHeader header, String runId) {
        return new RunHeader(
                runId,
                header.unitSerial(),
                header.stage(),
                header.operator(),
                header.startedAt(),
                header.softwareVersion(),
                header.profile(),
                header.rig(),
                header.calibration(),
                header.simulated(),
                header.simulatedUnit(),
                header.instruments());
    }
}

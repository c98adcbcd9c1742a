package railproof.record;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import railproof.base.BadFileException;
import railproof.base.DiskWords;
import railproof.base.Problem;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Waveform;

/**
 * A run that was killed, held so that it can be gone on with: nobody else can write to its folder until this is closed
 * or {@link #goOn} has handed the folder over to a writer.
 *
 * <p>Thread: one at a time.
 */
public final class BrokenOffRun implements AutoCloseable {
    private final Path folder;
    private final RunData run;
    private final FolderLock lock;
    private boolean handedOver;

    private BrokenOffRun(Path folder, RunData run, FolderLock lock) {
        this.folder = folder;
        this.run = run;
        this.lock = lock;
    }

    /**
     * Takes hold of a run without an end.
     *
     * @throws BadFileException if it is no run, cannot be read, has an end, or is being written
     * @throws RecordException if the disk refuses
     */
    public static BrokenOffRun hold(Path folder) throws BadFileException, RecordException {
        if (!RunFolder.isRun(folder)) {
            throw refusal(folder, "no run here (a run is a folder with run.json)");
        }
        FolderLock lock = FolderLock.take(folder)
                .orElseThrow(() -> refusal(
                        folder,
                        "this run is being written at this moment, by another process"
                                + " or by another unit of this one; it cannot be resumed"));
        boolean held = false;
        try {
            RunFolderReader reader = new RunFolderReader(folder);
            RunData run = reader.read();
            if (run.outcome().end() != RunOutcome.End.INCOMPLETE) {
                throw refusal(
                        folder,
                        "this run has an end (" + EventJson.word(run.outcome().end())
                                + "); only one that broke off without an end can be resumed");
            }
            if (reader.format() != RunFormat.CURRENT) {
                throw refusal(
                        folder,
                        "this run is of format " + reader.format().version() + ", written by an earlier version of"
                                + " this program, and can be read but not gone on with: new rows are of format "
                                + RunFormat.CURRENT.version());
            }
            held = true;
            return new BrokenOffRun(folder, run, lock);
        } finally {
            if (!held) {
                lock.close();
            }
        }
    }

    private static BadFileException refusal(Path folder, String message) {
        return new BadFileException(List.of(new Problem(folder.toString(), 0, 0, "", message)));
    }

    /** Its folder. */
    public Path folder() {
        return folder;
    }

    /** The run as far as it goes. */
    public RunData run() {
        return run;
    }

    /** Time since the start of the run of the last thing on record, s. */
    public double lastS() {
        double events = run.events().stream().mapToDouble(RunEvent::elapsedS).reduce(0, Math::max);
        double points = run.points().stream().mapToDouble(p -> p.elapsedS()).reduce(0, Math::max);
        return Math.max(events, points);
    }

    /** The first index no point has. */
    public int nextPoint() {
        return run.points().isEmpty()
                ? 0
                : run.points().get(run.points().size() - 1).index() + 1;
    }

    /** The first id no capture has. */
    public int nextWaveform() {
        return run.waveforms().stream().mapToInt(Waveform::id).reduce(-1, Math::max) + 1;
    }

    /**
     * Opens the folder for writing where it broke off: what a kill left unfinished is removed first.
     *
     * @throws RecordException if the disk refuses
     * @throws BadFileException if a file cannot be read any more
     */
    public RunFolderWriter goOn() throws RecordException, BadFileException {
        DiskStore store = DiskStore.INSTANCE;
        removeLeftovers();
        Path pointsFile = folder.resolve(PointsTable.FILE);
        Path eventsFile = folder.resolve(EventJson.FILE);
        String text = whole(pointsFile);
        long points = bytes(text.substring(
                0,
                CsvText.parse(PointsTable.FILE, text, new ArrayList<>(), row -> {})
                        .wholeLength()));
        String lines = whole(eventsFile);
        long events = bytes(lines.substring(0, lines.lastIndexOf('\n') + 1));
        RecordFile pointsGoOn = RecordFile.reopen(store, pointsFile, points);
        boolean opened = false;
        try {
            RecordFile eventsGoOn = RecordFile.reopen(store, eventsFile, events);
            opened = true;
            handedOver = true;
            return RunFolderWriter.goingOn(folder, run.header(), pointsGoOn, eventsGoOn, lock);
        } finally {
            if (!opened) {
                pointsGoOn.close();
            }
        }
    }

    private static String whole(Path file) throws BadFileException {
        try {
            // cut off inside a character: the rest belongs to a torn line
            return Utf8.decodeUpTo(Files.readAllBytes(file)).text();
        } catch (IOException e) {
            throw new BadFileException(
                    List.of(new Problem(file.toString(), 0, 0, "", "cannot be read: " + DiskWords.of(e))));
        }
    }

    private static long bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8).length;
    }

    private void removeLeftovers() throws RecordException {
        Set<String> known = new HashSet<>();
        run.waveforms().forEach(waveform -> known.add(WaveformTable.fileName(waveform.id())));
        for (Path place : Arrays.asList(folder.resolve(WaveformTable.FOLDER), folder)) {
            boolean waveforms = !place.equals(folder);
            try (Stream<Path> files = Files.list(place)) {
                for (Path file : files.toList()) {
                    String name = String.valueOf(file.getFileName());
                    if (name.endsWith(".part") || (waveforms && !known.contains(name))) {
                        Files.delete(file);
                    }
                }
            } catch (IOException e) {
                throw new RecordException("clear the folder", place, e);
            }
        }
    }

    /** Where the header's profile or rig differs from another text, in words; empty if both are the same. */
    public Optional<String> differs(String profileSha256, String rigSha256) {
        if (!run.header().profile().sha256().equals(profileSha256)) {
            return Optional.of("it was made with another profile, or the profile was changed since");
        }
        if (!run.header().rig().sha256().equals(rigSha256)) {
            return Optional.of("it was made on another rig, or the rig file was changed since");
        }
        return Optional.empty();
    }

    /** Lets go of the folder, unless a writer has it now. */
    @Override
    public void close() throws RecordException {
        if (!handedOver) {
            lock.close();
        }
    }
}

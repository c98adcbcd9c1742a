package railproof.record;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import railproof.base.BadFileException;
import railproof.base.DiskWords;
import railproof.base.Problem;
import railproof.judge.Judgement;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** Reads run folders, and keeps judgements beside them. Thread: any. */
public final class RunFolder {
    /** Says how a run ended; written last. */
    public static final String END_FILE = "end.json";
    /** Locked while somebody writes to the folder. */
    public static final String LOCK_FILE = FolderLock.FILE;
    /** Who signed the run off. */
    public static final String SIGN_OFF_FILE = "sign-off.json";

    /** The outcome of a run without an end. */
    static final RunOutcome WITHOUT_END = new RunOutcome(
            RunOutcome.End.INCOMPLETE,
            "the record has no end: the program was killed or the machine went down",
            List.of(),
            SafeState.UNKNOWN);

    private static final String VERDICT = "verdict";
    private static final String JSON = ".json";

    private RunFolder() {}

    /**
     * Reads a whole run.
     *
     * <p>Without an end the outcome is incomplete, and what a kill can leave behind (a torn last line, a file that
     * nothing refers to) is dropped and said in a note among the events. Anything else that is not as written is a
     * problem.
     *
     * @param folder the run's folder
     * @throws BadFileException with everything that is wrong, each at its file, line and column
     */
    public static RunData read(Path folder) throws BadFileException {
        return new RunFolderReader(folder).read();
    }

    /** Whether the folder holds a run that was at least started. */
    public static boolean isRun(Path folder) {
        return Files.isRegularFile(folder.resolve(RunJson.FILE));
    }

    /**
     * Whether somebody is writing the run at this moment.
     *
     * @throws RecordException if the disk refuses
     */
    public static boolean inUse(Path folder) throws RecordException {
        if (!Files.exists(folder.resolve(LOCK_FILE))) {
            return false;
        }
        java.util.Optional<FolderLock> lock = FolderLock.take(folder);
        if (lock.isPresent()) {
            lock.get().close();
        }
        return lock.isEmpty();
    }

    /**
     * The run folders of a data directory in order of their names, which is the order of their starts.
     *
     * @throws IOException if the directory cannot be listed
     */
    public static List<Path> runs(Path dataDirectory) throws IOException {
        try (Stream<Path> folders = Files.list(dataDirectory)) {
            return folders.filter(RunFolder::isRun).sorted().toList();
        }
    }

    /**
     * Keeps the judgement made at the end of the run as {@code verdict.json}, replacing an earlier one in one step.
     *
     * @return the file
     * @throws RecordException if the disk refuses
     */
    public static Path writeVerdict(Path folder, Judgement judgement) throws RecordException {
        return write(folder.resolve(VERDICT + JSON), judgement);
    }

    /**
     * Keeps a judgement made again as {@code verdict-PROFILE.json}, leaving {@code verdict.json} alone.
     *
     * @return the file
     * @throws RecordException if the disk refuses
     */
    public static Path writeLaterVerdict(Path folder, Judgement judgement) throws RecordException {
        return write(folder.resolve(laterVerdictName(judgement)), judgement);
    }

    /** The file name {@link #writeLaterVerdict} gives the judgement. */
    public static String laterVerdictName(Judgement judgement) {
        return VERDICT + "-" + RunIds.fileName(judgement.profileId()) + JSON;
    }

    /**
     * Reads a judgement back.
     *
     * @param file as {@link #writeVerdict} or {@link #writeLaterVerdict} returned it
     * @throws BadFileException with everything that is wrong
     */
    public static Judgement readVerdict(Path file) throws BadFileException {
        String name = String.valueOf(file.getFileName());
        try {
            return JudgementJson.read(name, Utf8.decode(name, Files.readAllBytes(file)));
        } catch (IOException e) {
            throw new BadFileException(
                    List.of(new Problem(file.toString(), 0, 0, "", "cannot be read: " + DiskWords.of(e))));
        }
    }

    /** Where {@link #writeVerdict} puts the judgement. */
    public static Path verdictFile(Path folder) {
        return folder.resolve(VERDICT + JSON);
    }

    /**
     * Keeps a text made from the run, such as its certificate, beside it; replaces an earlier one in one step.
     *
     * @param name file name, without folders
     * @return the file
     * @throws RecordException if the disk refuses
     * @throws IllegalArgumentException if the name is not a plain file name
     */
    public static Path writeText(Path folder, String name, String text) throws RecordException {
        return writeBytes(folder, name, text.getBytes(StandardCharsets.UTF_8));
    }

    /**
     * The same for a file that is not text.
     *
     * @param name file name, without folders
     * @return the file
     * @throws RecordException if the disk refuses
     * @throws IllegalArgumentException if the name is not a plain file name
     */
    public static Path writeBytes(Path folder, String name, byte[] content) throws RecordException {
        if (!name.equals(RunIds.fileName(name))) {
            throw new IllegalArgumentException("not a plain file name: " + name);
        }
        Path file = folder.resolve(name);
        RecordFile.writeWhole(DiskStore.INSTANCE, file, content);
        return file;
    }

    /**
     * Writes a text to where the user wants it; replaces an earlier one in one step.
     *
     * @throws RecordException if the disk refuses
     */
    public static void writeFile(Path file, String text) throws RecordException {
        RecordFile.writeWhole(DiskStore.INSTANCE, file, text.getBytes(StandardCharsets.UTF_8));
    }

    private static Path write(Path file, Judgement judgement) throws RecordException {
        RecordFile.writeWhole(
                DiskStore.INSTANCE, file, JudgementJson.write(judgement).getBytes(StandardCharsets.UTF_8));
        return file;
    }
}

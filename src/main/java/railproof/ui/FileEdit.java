package railproof.ui;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;

/**
 * A rig or profile file under the pen. It is replaced in one step, and only by a text that can be used; until then what
 * was typed is a draft.
 *
 * <p>Thread: any; disks are read and written where it is called.
 */
final class FileEdit {
    private final Kind kind;
    private final Path target;
    private final Drafts drafts;
    private final String opened;
    private final boolean fromDraft;
    /** What the file held when it was last read or written; empty if there was no file. */
    private Optional<String> onDisk;

    private int newest;

    /** What the file describes. */
    enum Kind {
        RIG("Rig"),
        PROFILE("Profile");

        private final String words;

        Kind(String words) {
            this.words = words;
        }

        String words() {
            return words;
        }

        /** Those that come with the program. */
        List<String> builtIn() {
            return this == RIG ? BuiltInFiles.rigNames() : BuiltInFiles.profileNames();
        }

        private String builtIn(String name) {
            return (this == RIG
                            ? BuiltInFiles.rig(name).source()
                            : BuiltInFiles.profile(name).source())
                    .text();
        }

        /** Everything wrong with a text, in file order. */
        List<Problem> check(String name, String text) {
            try {
                if (this == RIG) {
                    RigFile.parse(name, text);
                } else {
                    ProfileFile.parse(name, text);
                }
                return List.of();
            } catch (BadFileException e) {
                return e.problems();
            }
        }
    }

    private FileEdit(Kind kind, Path target, Drafts drafts, String text, Optional<String> onDisk) throws IOException {
        this.kind = kind;
        this.target = target;
        this.drafts = drafts;
        this.onDisk = onDisk;
        Optional<String> draft = drafts.read(target);
        fromDraft = draft.isPresent() && !draft.get().equals(text);
        opened = draft.orElse(text);
    }

    /**
     * Opens a file, or a copy of one that comes with the program; a draft of it that was left is taken up again.
     *
     * @param name a path, or the name of one that comes with the program
     * @throws BadFileException if there is no such file, or it is no text
     */
    static FileEdit open(Kind kind, String name, Drafts drafts) throws BadFileException, IOException {
        try {
            Path file = Path.of(name);
            if (Files.isRegularFile(file)) {
                String text = Files.readString(file, StandardCharsets.UTF_8);
                return new FileEdit(kind, file, drafts, text, Optional.of(text));
            }
            if (kind.builtIn().contains(name)) {
                return new FileEdit(kind, freeName(name), drafts, kind.builtIn(name), Optional.empty());
            }
        } catch (InvalidPathException e) {
            throw new BadFileException(List.of(new Problem(name, 0, 0, "", "this cannot be a file's name")));
        } catch (CharacterCodingException e) {
            throw new BadFileException(List.of(new Problem(name, 0, 0, "", "is no text in UTF-8")));
        }
        throw new BadFileException(List.of(new Problem(
                name,
                0,
                0,
                "",
                "no such file, and none of that name comes with the program; there are: "
                        + String.join(", ", kind.builtIn()))));
    }

    private static Path freeName(String name) {
        Path file = Path.of("my-" + name + ".toml");
        for (int number = 2; Files.exists(file); number++) {
            file = Path.of("my-" + name + "-" + number + ".toml");
        }
        return file;
    }

    private static Optional<String> onDisk(Path file) throws IOException {
        return Files.exists(file) ? Optional.of(Files.readString(file, StandardCharsets.UTF_8)) : Optional.empty();
    }

    Path target() {
        return target;
    }

    /** The text to begin with. */
    String opened() {
        return opened;
    }

    /** Whether that is a draft that was left, not what the file holds. */
    boolean fromDraft() {
        return fromDraft;
    }

    /** Whether a text is what the file holds. */
    synchronized boolean isSaved(String text) {
        return onDisk.filter(text::equals).isPresent();
    }

    /** Everything wrong with a text. */
    List<Problem> check(String text) {
        return kind.check(String.valueOf(target.getFileName()), text);
    }

    /**
     * Keeps what was typed so far, unless something newer was kept or saved already.
     *
     * @param number counts what was typed
     * @throws RecordException if the disk refuses
     */
    synchronized void keepDraft(int number, String text) throws RecordException {
        if (number >= newest && !isSaved(text)) {
            newest = number;
            drafts.keep(target, text);
        }
    }

    /**
     * Puts a text into a file; one that cannot be used, or that would cover what somebody else wrote meanwhile, stays a
     * draft and the file as it is.
     *
     * @param number counts what was typed
     * @param into where, as a rule {@link #target}
     * @return what stands in the way; empty if it is saved
     * @throws IOException if the disk refuses
     */
    synchronized List<Problem> save(int number, Path into, String text) throws IOException {
        newest = Math.max(newest, number);
        List<Problem> problems = check(text);
        boolean own =
                into.toAbsolutePath().normalize().equals(target.toAbsolutePath().normalize());
        Optional<String> there = onDisk(into);
        if (there.isPresent() && !(own ? there.equals(onDisk) : there.get().equals(text))) {
            problems = List.of(new Problem(
                    into.toString(),
                    0,
                    0,
                    "",
                    own
                            ? "was changed by somebody else since it was opened; save under another name, or open it again"
                            : "is there already; save under another name"));
        }
        if (!problems.isEmpty()) {
            drafts.keep(target, text);
            return problems;
        }
        RunFolder.writeFile(into.toAbsolutePath(), text);
        drafts.forget(target);
        if (own) {
            onDisk = Optional.of(text);
        }
        return List.of();
    }
}

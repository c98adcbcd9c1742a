package railproof.ui;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import railproof.app.ExitStatus;
import railproof.app.RunResult;
import railproof.base.BadFileException;
import railproof.judge.Judgement;
import railproof.profile.ProfileFile;
import railproof.record.RunFolder;
import railproof.run.RunData;

/**
 * A run that is over, as its folder has it.
 *
 * @param folder where it is kept
 * @param run the run
 * @param profile what it was made and judged with
 * @param judgement its verdict; empty without one
 * @param troubles what went wrong with its record
 */
record KeptRun(Path folder, RunData run, ProfileFile profile, Optional<Judgement> judgement, List<String> troubles) {
    KeptRun {
        troubles = List.copyOf(troubles);
    }

    static KeptRun of(RunResult result, ProfileFile profile) {
        return new KeptRun(result.folder(), result.run(), profile, result.judgement(), result.troubles());
    }

    /**
     * Reads one back.
     *
     * @throws BadFileException with everything that is wrong with its files
     */
    static KeptRun read(Path folder) throws BadFileException {
        RunData run = RunFolder.read(folder);
        ProfileFile profile = ProfileFile.parse(run.header().profile());
        Path verdict = RunFolder.verdictFile(folder);
        Optional<Judgement> judgement =
                Files.exists(verdict) ? Optional.of(RunFolder.readVerdict(verdict)) : Optional.empty();
        return new KeptRun(folder, run, profile, judgement, List.of());
    }

    String unit() {
        return run.header().unitSerial();
    }

    boolean simulated() {
        return run.header().simulated();
    }

    ExitStatus status() {
        return ExitStatus.of(run.outcome(), judgement);
    }

    /** For the header. */
    String subject() {
        return "Unit " + unit() + "  ·  " + run.header().stage().label() + "  ·  "
                + profile.profile().title();
    }
}

package railproof.app;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import railproof.judge.Judgement;
import railproof.run.RunData;

/**
 * What came of a run.
 *
 * @param folder the run folder
 * @param run the run as read back from it
 * @param judgement its judgement
 * @param status the exit status it deserves
 * @param troubles what went wrong with record and paperwork, in words; how the run ended stands
 */
public record RunResult(
        Path folder, RunData run, Optional<Judgement> judgement, ExitStatus status, List<String> troubles) {
    public RunResult {
        troubles = List.copyOf(troubles);
    }
}

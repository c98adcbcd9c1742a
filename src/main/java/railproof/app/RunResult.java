package railproof.app;

import java.nio.file.Path;
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
 * @param recordTrouble why the record is not whole, although the run came to its end; empty if it is
 */
public record RunResult(
        Path folder, RunData run, Optional<Judgement> judgement, ExitStatus status, Optional<String> recordTrouble) {}

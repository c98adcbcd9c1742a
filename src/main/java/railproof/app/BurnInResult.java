package railproof.app;

import java.util.Optional;

/**
 * What came of one unit's burn-in.
 *
 * @param unitSerial the unit
 * @param run what came of its run; empty if none was begun
 * @param trouble why none was begun; empty if one was
 * @param status the exit status it deserves
 */
public record BurnInResult(
        String unitSerial, Optional<RunResult> run, Optional<Exception> trouble, ExitStatus status) {}

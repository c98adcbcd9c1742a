package railproof.cli;

import railproof.app.ExitStatus;
import railproof.archive.store.ArchiveException;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.record.RecordException;
import railproof.wire.LinkException;

/** Turns what went wrong into words and an exit status; a stack trace is never shown to the user. */
final class Troubles {
    private Troubles() {}

    static ExitStatus tell(Screen screen, Exception trouble) {
        if (trouble instanceof BadFileException bad) {
            for (Problem problem : bad.problems()) {
                screen.say(problem.text());
            }
            int count = bad.problems().size();
            screen.say(count == 1 ? "1 problem." : count + " problems.");
            return ExitStatus.BAD_INPUT;
        }
        if (trouble instanceof LinkException) {
            screen.say("Rig: " + trouble.getMessage());
            screen.say("Nothing was switched on by this run. See: railproof ports, railproof check-rig");
            return ExitStatus.RIG_TROUBLE;
        }
        if (trouble instanceof RecordException) {
            screen.say("Record: " + trouble.getMessage());
            return ExitStatus.RIG_TROUBLE;
        }
        if (trouble instanceof ArchiveException) {
            screen.say("Archive: " + trouble.getMessage());
            screen.say("Run folders are whole. One in the data directory is made new by: railproof archive --rebuild");
            return ExitStatus.RIG_TROUBLE;
        }
        System.getLogger("railproof.cli").log(System.Logger.Level.DEBUG, "unexpected trouble", trouble);
        screen.say("This is a mistake in the program, please report it: " + trouble);
        return ExitStatus.RIG_TROUBLE;
    }
}

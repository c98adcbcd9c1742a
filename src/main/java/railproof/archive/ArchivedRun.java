package railproof.archive;

import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import railproof.judge.Judgement;
import railproof.judge.SignOff;
import railproof.profile.SourceText;
import railproof.record.RunSummary;
import railproof.run.RunHeader;

/**
 * One run as a row of the archive. Words are those of the run's own files.
 *
 * @param key digest of the run's header; the same run read again has the same key
 * @param runId name of the run
 * @param folder where it was read from
 * @param unitSerial serial number of the unit
 * @param profileId type of the unit; of the profile it was made with
 * @param stage {@code as-found} or {@code as-left}
 * @param kind {@code qualification} or {@code burn-in}
 * @param startedAt wall time
 * @param endedAt wall time; empty without an end
 * @param operator empty if not said
 * @param rig name of the rig file
 * @param softwareVersion version that made it
 * @param simulated whether it says nothing of a real unit
 * @param outcome {@code completed}, {@code tripped}, {@code stopped}, {@code faulted}, {@code incomplete}
 * @param cause why it ended early, empty if it did not
 * @param safeState {@code confirmed}, {@code commanded}, {@code unknown}
 * @param verdict {@code pass}, {@code conditional-pass}, {@code not-judged}, {@code conditional-fail}, {@code fail}
 * @param signedBy who signed it off, empty if nobody
 * @param signedAt when
 * @param training whether the sign-off is an exercise
 */
public record ArchivedRun(
        String key,
        String runId,
        String folder,
        String unitSerial,
        String profileId,
        String stage,
        String kind,
        Instant startedAt,
        Optional<Instant> endedAt,
        String operator,
        String rig,
        String softwareVersion,
        boolean simulated,
        String outcome,
        String cause,
        String safeState,
        String verdict,
        String signedBy,
        Optional<Instant> signedAt,
        boolean training) {
    /** The kind of a run that is no burn-in. */
    public static final String QUALIFICATION = "qualification";
    /** The kind of a burn-in. */
    public static final String BURN_IN = "burn-in";

    private static final String NOT_JUDGED = "not-judged";

    /** The row of a run folder. */
    public static ArchivedRun of(RunSummary run, String folder) {
        RunHeader header = run.header();
        Optional<Judgement> judgement = run.judgement();
        boolean burnIn = judgement
                .map(j -> j.checks().stream().anyMatch(check -> check.id().startsWith(BURN_IN)))
                .orElse(false);
        return new ArchivedRun(
                run.headerSha256(),
                header.runId(),
                folder,
                header.unitSerial(),
                judgement.map(Judgement::profileId).orElseGet(() -> nameOf(header.profile())),
                header.stage().label(),
                burnIn ? BURN_IN : QUALIFICATION,
                header.startedAt(),
                run.endedAt(),
                header.operator(),
                header.rig().name(),
                header.softwareVersion(),
                header.simulated(),
                word(run.outcome().end()),
                run.outcome().cause(),
                word(run.outcome().safeState()),
                judgement.map(j -> word(j.overall())).orElse(NOT_JUDGED),
                run.signOff().map(SignOff::by).orElse(""),
                run.signOff().map(SignOff::at),
                run.signOff().map(SignOff::training).orElse(false));
    }

    /** A run without a verdict names its profile by its file. */
    private static String nameOf(SourceText profile) {
        String name = profile.name().replaceFirst("^built in: ", "").replaceFirst("\\.toml$", "");
        return name.substring(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
    }

    /** A constant as the archive writes it. */
    public static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Whether it ended for a reason that lies in the unit: only such runs count in statistics. */
    public boolean countsForTheUnit() {
        return kind.equals(QUALIFICATION) && (outcome.equals("completed") || outcome.equals("tripped"));
    }
}

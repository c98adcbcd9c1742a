package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.run.RunData;

/**
 * Judges a run: every limit of the profile becomes one check with value, expanded uncertainty and verdict.
 *
 * <p>What is not measured is not judged, with the reason; a limit the profile does not set makes no check. Doubts (a
 * planned point missing, a load that did not draw, a line that did not move) turn a pass into "not judged" but never
 * hide a fail. A run that did not complete is judged as far as it goes.
 *
 * <p>Thread: pure; any.
 */
public final class Judge {
    private Judge() {}

    /**
     * Judges.
     *
     * @param run whole run, complete or not
     * @param profile what to judge against; need not be the one the run was made with
     * @param profileSha256 digest of that profile's text
     */
    public static Judgement judge(RunData run, Profile profile, String profileSha256) {
        List<Check> checks = new ArrayList<>();
        if (BurnInChecks.concerns(run)) {
            for (Rail rail : profile.rails()) {
                checks.addAll(new BurnInChecks(new Subject(run, profile, rail)).all());
            }
            checks.add(
                    BurnInChecks.hours(new Subject(run, profile, profile.rails().get(0))));
            checks.add(Envelope.check(run));
            return judgement(run, profile, profileSha256, checks);
        }
        for (Rail rail : profile.rails()) {
            Subject subject = new Subject(run, profile, rail);
            SweepChecks sweeps = new SweepChecks(subject);
            RegulationChecks regulation = new RegulationChecks(subject);
            checks.add(sweeps.noLoadVoltage());
            checks.add(sweeps.outputVoltage());
            regulation.load().ifPresent(checks::add);
            regulation.line().ifPresent(checks::add);
            sweeps.ripplePp().ifPresent(checks::add);
            sweeps.rippleRms().ifPresent(checks::add);
            checks.addAll(new LimitChecks(subject).all());
            checks.addAll(new DynamicChecks(subject).all());
        }
        checks.add(Envelope.check(run));
        return judgement(run, profile, profileSha256, checks);
    }

    private static Judgement judgement(RunData run, Profile profile, String profileSha256, List<Check> checks) {
        return new Judgement(
                profile.id(), profileSha256, profile.rule(), checks, SectionSummary.of(run, profile, checks));
    }
}

package railproof.judge;

import java.util.Comparator;
import java.util.List;
import railproof.profile.DecisionRule;

/**
 * All checks of one run under one profile.
 *
 * @param profileId the profile judged against
 * @param profileSha256 digest of its text
 * @param rule the decision rule used
 * @param checks in the order of the profile's rails
 * @param sections every procedure on every rail, in the order of a run; empty in judgements of earlier versions
 */
public record Judgement(
        String profileId, String profileSha256, DecisionRule rule, List<Check> checks, List<SectionSummary> sections) {
    public Judgement {
        checks = List.copyOf(checks);
        sections = List.copyOf(sections);
    }

    /** Checks alone, without an account of the run's parts. */
    public Judgement(String profileId, String profileSha256, DecisionRule rule, List<Check> checks) {
        this(profileId, profileSha256, rule, checks, List.of());
    }

    /** The worst verdict of all checks; NOT_JUDGED if there is none. */
    public Verdict overall() {
        return checks.stream()
                .map(Check::verdict)
                .max(Comparator.naturalOrder())
                .orElse(Verdict.NOT_JUDGED);
    }
}

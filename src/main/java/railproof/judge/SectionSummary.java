package railproof.judge;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import railproof.profile.Procedure;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.run.Point;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.Section;

/**
 * What one procedure did on one rail, and what became of it.
 *
 * @param section the procedure's part of the run
 * @param rail the rail's name
 * @param points how many points it took
 * @param fromS when it began, since the start of the run, s; 0 if it did not
 * @param toS when its last point was finished, s; 0 if it took none
 * @param checks ids of the checks that rest on it
 * @param verdict the worst of these; empty if nothing of it is judged
 * @param reason why it took no points; empty if it did
 */
public record SectionSummary(
        Section section,
        String rail,
        int points,
        double fromS,
        double toS,
        List<String> checks,
        Optional<Verdict> verdict,
        String reason) {
    private static final Map<Procedure, Section> SECTIONS = new EnumMap<>(Map.of(
            Procedure.FIRST_POWER_UP, Section.FIRST_POWER_UP,
            Procedure.LOAD_SWEEP, Section.LOAD_SWEEP,
            Procedure.LINE_SWEEP, Section.LINE_SWEEP,
            Procedure.DROPOUT_LINE, Section.DROPOUT_LINE,
            Procedure.LOAD_STEP, Section.LOAD_STEP,
            Procedure.HOLD_UP, Section.HOLD_UP,
            Procedure.START_UP, Section.START_UP,
            Procedure.CURRENT_LIMIT, Section.CURRENT_LIMIT,
            Procedure.CROSS_REGULATION, Section.CROSS_REGULATION));

    public SectionSummary {
        checks = List.copyOf(checks);
    }

    /** The section that a check rests on; empty for one that rests on none, or on all. */
    static Optional<Section> ofCheck(String id) {
        return Optional.ofNullable(
                switch (id) {
                    case "no-load-voltage" -> Section.NO_LOAD;
                    case "output-voltage", "load-regulation", "ripple-pp", "ripple-rms", "warming", "hysteresis" ->
                        Section.LOAD_SWEEP;
                    case "line-regulation" -> Section.LINE_SWEEP;
                    case "dropout-line" -> Section.DROPOUT_LINE;
                    case "step-recovery", "step-deviation" -> Section.LOAD_STEP;
                    case "hold-up" -> Section.HOLD_UP;
                    case "start-up-time", "start-up-overshoot" -> Section.START_UP;
                    case "current-limit", "limit-shape", "short-circuit", "overload-recovery" -> Section.CURRENT_LIMIT;
                    case "recovery" -> Section.RECOVERY;
                    case "cross-regulation" -> Section.CROSS_REGULATION;
                    case "burn-in-cooled" -> Section.BURN_IN_COOLED;
                    case "burn-in-drift", "burn-in-ripple-growth" -> Section.BURN_IN_HOT;
                    default -> id.startsWith("burn-in-") ? Section.BURN_IN : null;
                });
    }

    /** One for every part of the run and every rail, done or asked for, in the order in which a run does them. */
    static List<SectionSummary> of(RunData run, Profile profile, List<Check> checks) {
        List<SectionSummary> all = new ArrayList<>();
        for (Section section : Section.values()) {
            for (Rail rail : profile.rails()) {
                Subject subject = new Subject(run, profile, rail);
                List<Point> points = subject.points(section);
                if (!points.isEmpty() || asked(run, profile, rail).contains(section)) {
                    all.add(one(subject, section, points, checks));
                }
            }
        }
        return all;
    }

    private static SectionSummary one(Subject subject, Section section, List<Point> points, List<Check> checks) {
        String rail = subject.rail().name();
        List<Check> of = checks.stream()
                .filter(check -> check.rail().equals(rail)
                        && ofCheck(check.id()).filter(section::equals).isPresent())
                .toList();
        double firstS = points.isEmpty() ? 0 : points.get(0).elapsedS();
        double fromS = subject.run().events().stream()
                .filter(RunEvent.SectionStarted.class::isInstance)
                .map(RunEvent.SectionStarted.class::cast)
                .filter(event -> event.section() == section && event.rail().equals(rail))
                .mapToDouble(RunEvent.SectionStarted::elapsedS)
                .findFirst()
                .orElse(firstS);
        return new SectionSummary(
                section,
                rail,
                points.size(),
                fromS,
                points.isEmpty() ? 0 : points.get(points.size() - 1).elapsedS(),
                of.stream().map(Check::id).toList(),
                of.stream().map(Check::verdict).max(Comparator.naturalOrder()),
                points.isEmpty() ? subject.whyAbsent(section) : "");
    }

    private static Set<Section> asked(RunData run, Profile profile, Rail rail) {
        if (BurnInChecks.concerns(run)) {
            return EnumSet.of(Section.NO_LOAD, Section.BURN_IN, Section.BURN_IN_HOT, Section.BURN_IN_COOLED);
        }
        Set<Section> asked = EnumSet.of(Section.NO_LOAD);
        for (Procedure procedure : profile.plan().program().procedures()) {
            if (procedure != Procedure.CROSS_REGULATION || profile.rails().size() > 1) {
                asked.add(SECTIONS.getOrDefault(procedure, Section.NO_LOAD));
            }
        }
        if (rail.hazardousLive()) {
            asked.add(Section.DISCHARGE);
        }
        return asked;
    }
}

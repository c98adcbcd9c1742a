package railproof.archive;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * What the runs of one type of unit say together. Burn-ins, and runs that ended for a reason outside the unit, count
 * only in {@code otherEnds}. Pure.
 *
 * @param profileId the type
 * @param runs how many runs there are, of all kinds
 * @param units how many units
 * @param firstPass units whose first as-left run passed, of all units with an as-left run; empty if there is none
 * @param firstConditional units whose first as-left run passed conditionally
 * @param checks one for every check of every rail, in the order of the newest run
 * @param causes failed checks, the most common first
 * @param otherEnds how often runs ended early, by how
 */
public record TypeStatistics(
        String profileId,
        int runs,
        int units,
        Optional<Proportion> firstPass,
        int firstConditional,
        List<CheckStatistics> checks,
        List<Cause> causes,
        Map<String, Integer> otherEnds) {
    private static final String AS_FOUND = "as-found";
    private static final String AS_LEFT = "as-left";

    public TypeStatistics {
        checks = List.copyOf(checks);
        causes = List.copyOf(causes);
        otherEnds = Map.copyOf(otherEnds);
    }

    /**
     * One check over all units.
     *
     * @param checkId stable short name
     * @param rail the rail's name
     * @param title for people
     * @param unit symbol of its unit
     * @param lowDimensionless lower limit of the newest run
     * @param highDimensionless upper limit of the newest run
     * @param otherLimits units left out of the capability because their limits were other ones
     * @param asLeft capability of the units as left, each unit's last run; empty if no unit has a value
     * @param shift what the repair changed: as left minus as found of units with both, each side's last run
     */
    public record CheckStatistics(
            String checkId,
            String rail,
            String title,
            String unit,
            Optional<Double> lowDimensionless,
            Optional<Double> highDimensionless,
            int otherLimits,
            Optional<Capability> asLeft,
            Optional<Capability> shift) {}

    /**
     * How often a check failed.
     *
     * @param checkId stable short name
     * @param rail the rail's name
     * @param title for people
     * @param asFound runs as found in which it failed
     * @param asLeft runs as left in which it failed
     */
    public record Cause(String checkId, String rail, String title, int asFound, int asLeft) {
        /** Of both stages. */
        public int failures() {
            return asFound + asLeft;
        }
    }

    private record Key(String checkId, String rail) {}

    /**
     * Works them out.
     *
     * @param profileId the type
     * @param all its runs, in any order
     * @param checks their checks
     */
    public static TypeStatistics of(String profileId, List<ArchivedRun> all, List<ArchivedCheck> checks) {
        List<ArchivedRun> runs = all.stream()
                .filter(ArchivedRun::countsForTheUnit)
                .sorted(Comparator.comparing(ArchivedRun::startedAt).thenComparing(ArchivedRun::key))
                .toList();
        Map<String, List<ArchivedCheck>> byRun = new HashMap<>();
        checks.forEach(check ->
                byRun.computeIfAbsent(check.runKey(), key -> new ArrayList<>()).add(check));
        Map<String, ArchivedRun> first = new LinkedHashMap<>();
        Map<String, ArchivedRun> lastFound = new LinkedHashMap<>();
        Map<String, ArchivedRun> lastLeft = new LinkedHashMap<>();
        for (ArchivedRun run : runs) {
            if (run.stage().equals(AS_LEFT)) {
                first.putIfAbsent(run.unitSerial(), run);
                lastLeft.put(run.unitSerial(), run);
            } else {
                lastFound.put(run.unitSerial(), run);
            }
        }
        Set<String> units = new LinkedHashSet<>();
        all.forEach(run -> units.add(run.unitSerial()));
        int passed = count(first, "pass");
        return new TypeStatistics(
                profileId,
                all.size(),
                units.size(),
                first.isEmpty() ? Optional.empty() : Optional.of(Proportion.of(passed, first.size())),
                count(first, "conditional-pass"),
                perCheck(runs, byRun, lastFound, lastLeft),
                causes(runs, byRun),
                otherEnds(all));
    }

    private static int count(Map<String, ArchivedRun> runs, String verdict) {
        return (int) runs.values().stream()
                .filter(run -> run.verdict().equals(verdict))
                .count();
    }

    private static Map<String, Integer> otherEnds(List<ArchivedRun> all) {
        Map<String, Integer> ends = new TreeMap<>();
        all.stream()
                .filter(run -> !run.outcome().equals("completed"))
                .forEach(run -> ends.merge(run.outcome(), 1, Integer::sum));
        return ends;
    }

    private static List<CheckStatistics> perCheck(
            List<ArchivedRun> runs,
            Map<String, List<ArchivedCheck>> byRun,
            Map<String, ArchivedRun> lastFound,
            Map<String, ArchivedRun> lastLeft) {
        Map<Key, ArchivedCheck> newest = new LinkedHashMap<>();
        for (int i = runs.size() - 1; i >= 0; i--) {
            for (ArchivedCheck check : byRun.getOrDefault(runs.get(i).key(), List.of())) {
                newest.putIfAbsent(new Key(check.checkId(), check.rail()), check);
            }
        }
        Map<Key, Map<String, ArchivedCheck>> left = byUnit(lastLeft, byRun);
        Map<Key, Map<String, ArchivedCheck>> found = byUnit(lastFound, byRun);
        List<CheckStatistics> statistics = new ArrayList<>();
        newest.forEach((key, check) ->
                statistics.add(statistics(check, left.getOrDefault(key, Map.of()), found.getOrDefault(key, Map.of()))));
        return statistics;
    }

    private static CheckStatistics statistics(
            ArchivedCheck newest, Map<String, ArchivedCheck> left, Map<String, ArchivedCheck> found) {
        List<Double> values = new ArrayList<>();
        List<Double> shifts = new ArrayList<>();
        int otherLimits = 0;
        for (Map.Entry<String, ArchivedCheck> unit : left.entrySet()) {
            ArchivedCheck check = unit.getValue();
            double value = check.valueDimensionless().orElseThrow();
            boolean same = check.lowDimensionless().equals(newest.lowDimensionless())
                    && check.highDimensionless().equals(newest.highDimensionless());
            if (same) {
                values.add(value);
            } else {
                otherLimits++;
            }
            ArchivedCheck before = found.get(unit.getKey());
            if (before != null) {
                shifts.add(value - before.valueDimensionless().orElseThrow());
            }
        }
        return new CheckStatistics(
                newest.checkId(),
                newest.rail(),
                newest.title(),
                newest.unit(),
                newest.lowDimensionless(),
                newest.highDimensionless(),
                otherLimits,
                values.isEmpty()
                        ? Optional.empty()
                        : Optional.of(Capability.of(values, newest.lowDimensionless(), newest.highDimensionless())),
                shifts.isEmpty()
                        ? Optional.empty()
                        : Optional.of(Capability.of(shifts, Optional.empty(), Optional.empty())));
    }

    /** The checks with a value, by check and unit. */
    private static Map<Key, Map<String, ArchivedCheck>> byUnit(
            Map<String, ArchivedRun> runs, Map<String, List<ArchivedCheck>> byRun) {
        Map<Key, Map<String, ArchivedCheck>> byUnit = new HashMap<>();
        runs.forEach((unit, run) -> {
            for (ArchivedCheck check : byRun.getOrDefault(run.key(), List.of())) {
                if (check.valueDimensionless().isPresent()) {
                    byUnit.computeIfAbsent(new Key(check.checkId(), check.rail()), key -> new TreeMap<>())
                            .put(unit, check);
                }
            }
        });
        return byUnit;
    }

    private static List<Cause> causes(List<ArchivedRun> runs, Map<String, List<ArchivedCheck>> byRun) {
        Map<Key, Cause> causes = new LinkedHashMap<>();
        for (ArchivedRun run : runs) {
            int found = run.stage().equals(AS_FOUND) ? 1 : 0;
            for (ArchivedCheck check : byRun.getOrDefault(run.key(), List.of())) {
                if (check.verdict().equals("fail")) {
                    causes.merge(
                            new Key(check.checkId(), check.rail()),
                            new Cause(check.checkId(), check.rail(), check.title(), found, 1 - found),
                            (a, b) -> new Cause(
                                    a.checkId(),
                                    a.rail(),
                                    b.title(),
                                    a.asFound() + b.asFound(),
                                    a.asLeft() + b.asLeft()));
                }
            }
        }
        return causes.values().stream()
                .sorted(Comparator.comparingInt(Cause::failures).reversed())
                .toList();
    }
}

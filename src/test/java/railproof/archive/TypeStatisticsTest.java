package railproof.archive;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.commons.math3.stat.interval.WilsonScoreInterval;
import org.junit.jupiter.api.Test;

class TypeStatisticsTest {
    private static final Instant DAY = Instant.parse("2026-11-25T08:00:00Z");

    private final List<ArchivedRun> runs = new ArrayList<>();
    private final List<ArchivedCheck> checks = new ArrayList<>();

    @Test
    void firstPassCountsOnlyAUnitsFirstAsLeftRun() {
        run("A", "as-left", "fail", 0.9);
        run("A", "as-left", "pass", 0.5);
        run("B", "as-found", "fail", 0.9);
        run("B", "as-left", "pass", 0.5);
        run("C", "as-left", "conditional-pass", 0.79);
        run("D", "as-found", "fail", 0.9);
        TypeStatistics all = TypeStatistics.of("counter-5v", runs, checks);
        assertEquals(4, all.units());
        assertEquals(6, all.runs());
        assertEquals(Proportion.of(1, 3), all.firstPass().orElseThrow());
        assertEquals(1, all.firstConditional());
    }

    @Test
    void theShiftIsOfUnitsWithBothSidesAndTheirLastRuns() {
        run("A", "as-found", "fail", 0.95);
        run("A", "as-found", "fail", 0.9);
        run("A", "as-left", "fail", 0.85);
        run("A", "as-left", "pass", 0.5);
        run("B", "as-found", "fail", 1.0);
        run("B", "as-left", "pass", 0.4);
        run("C", "as-left", "pass", 0.1);
        Capability shift = TypeStatistics.of("counter-5v", runs, checks)
                .checks()
                .get(0)
                .shift()
                .orElseThrow();
        assertEquals(2, shift.count());
        assertEquals(-0.5, shift.meanDimensionless(), 1e-12);
    }

    @Test
    void whatEndedForAReasonOutsideTheUnitDoesNotCount() {
        run("A", "as-left", "pass", 0.5);
        ArchivedRun stopped = SampleRuns.run("x", "B", "counter-5v", "as-left", DAY, "not-judged");
        runs.add(new ArchivedRun(
                stopped.key(),
                stopped.runId(),
                stopped.folder(),
                stopped.unitSerial(),
                stopped.profileId(),
                stopped.stage(),
                stopped.kind(),
                stopped.startedAt(),
                stopped.endedAt(),
                stopped.operator(),
                stopped.rig(),
                stopped.softwareVersion(),
                false,
                "stopped",
                "stopped by m. k.",
                stopped.safeState(),
                stopped.verdict(),
                "",
                Optional.empty(),
                false));
        TypeStatistics all = TypeStatistics.of("counter-5v", runs, checks);
        assertEquals(1, all.firstPass().orElseThrow().whole());
        assertEquals(Map.of("stopped", 1), all.otherEnds());
    }

    @Test
    void causesAreSortedByHowOftenTheyFail() {
        run("A", "as-found", "fail", 0.9);
        run("B", "as-found", "fail", 0.9);
        run("C", "as-left", "fail", 0.9);
        checks.add(check(runs.get(0).key(), "load-regulation", 0.9));
        List<TypeStatistics.Cause> causes =
                TypeStatistics.of("counter-5v", runs, checks).causes();
        assertEquals(
                List.of(
                        new TypeStatistics.Cause("ripple-pp", "+5 V", "Title", 2, 1),
                        new TypeStatistics.Cause("load-regulation", "+5 V", "Title", 1, 0)),
                causes);
    }

    /** Worked by hand: mean 10, s = 1 exactly for equal numbers of 9 and 11 scaled by sqrt((n-1)/n). */
    @Test
    void capabilityIsTheNearerLimitOverThreeDeviations() {
        List<Double> values = new ArrayList<>();
        double step = Math.sqrt(29.0 / 30);
        for (int i = 0; i < 30; i++) {
            values.add(10 + (i % 2 == 0 ? step : -step));
        }
        Capability both = Capability.of(values, Optional.of(4.0), Optional.of(13.0));
        assertEquals(1.0, both.standardDeviationDimensionless(), 1e-12);
        assertEquals(1.0, both.ppk().orElseThrow(), 1e-12);
        // Bissell: 1 - 1.645 sqrt(1/270 + 1/58)
        assertEquals(0.7619, both.ppkLow().orElseThrow(), 1e-4);
        assertEquals(
                2.0,
                Capability.of(values, Optional.of(4.0), Optional.empty()).ppk().orElseThrow(),
                1e-12);
    }

    @Test
    void tooFewUnitsGiveNoIndex() {
        List<Double> values = new ArrayList<>();
        for (int i = 0; i < Capability.FEWEST - 1; i++) {
            values.add((double) i);
        }
        assertTrue(
                Capability.of(values, Optional.of(0.0), Optional.empty()).ppk().isEmpty());
        values.add(1.0);
        assertTrue(
                Capability.of(values, Optional.of(0.0), Optional.empty()).ppk().isPresent());
    }

    /** Against an independent library's Wilson interval. */
    @Test
    void sharesHaveWilsonsInterval() {
        for (int whole = 1; whole < 60; whole += 7) {
            for (int part = 0; part <= whole; part++) {
                var expected = new WilsonScoreInterval().createInterval(whole, part, 0.95);
                Proportion found = Proportion.of(part, whole);
                assertEquals(expected.getLowerBound(), found.lowRatio(), 1e-9);
                assertEquals(expected.getUpperBound(), found.highRatio(), 1e-9);
            }
        }
    }

    private void run(String unit, String stage, String verdict, double value) {
        String key = "k" + runs.size();
        runs.add(SampleRuns.run(key, unit, "counter-5v", stage, DAY.plusSeconds(60L * runs.size()), verdict));
        checks.add(check(key, "ripple-pp", value));
    }

    private static ArchivedCheck check(String key, String id, double value) {
        return new ArchivedCheck(
                key,
                0,
                id,
                "+5 V",
                "Title",
                "V",
                Optional.of(value),
                0.01,
                Optional.empty(),
                Optional.of(0.8),
                value > 0.8 ? "fail" : "pass");
    }
}

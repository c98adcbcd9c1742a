package railproof.archive;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import railproof.archive.store.Archive;

/** Invented rows of an archive, reproducible: about a dozen checks a run, five types, one unit tested a few times. */
public final class SampleRuns {
    private static final Instant FIRST = Instant.parse("2020-01-06T07:00:00Z");
    private static final List<String> TYPES =
            List.of("counter-5v", "counter-15v", "tape-24v", "tape-85v", "counter-175v");
    private static final List<String> CHECKS = List.of(
            "no-load-voltage",
            "output-voltage",
            "load-regulation",
            "line-regulation",
            "ripple-pp",
            "ripple-rms",
            "current-limit",
            "short-circuit",
            "recovery",
            "load-step",
            "hold-up",
            "envelope");

    private SampleRuns() {}

    /** Run number n; the same number gives the same run. */
    public static Archive.Entry entry(String bench, int n) {
        Random random = new Random(31L * n + bench.hashCode());
        String type = TYPES.get(n / 3 % TYPES.size());
        String unit = type.substring(0, 2).toUpperCase(java.util.Locale.ROOT) + "-" + bench + "-" + n / 3;
        boolean asFound = n % 3 == 0;
        Instant at = FIRST.plusSeconds(1700L * n);
        String key = String.format(java.util.Locale.ROOT, "%s-%08d", bench, n);
        List<ArchivedCheck> checks = new ArrayList<>();
        boolean failed = false;
        for (int i = 0; i < CHECKS.size(); i++) {
            double value = (asFound ? 0.6 : 0.5) + 0.1 * random.nextGaussian();
            boolean fails = value > 0.8;
            failed |= fails;
            checks.add(new ArchivedCheck(
                    key,
                    i,
                    CHECKS.get(i),
                    i == CHECKS.size() - 1 ? "all" : "+5 V",
                    "Check of " + CHECKS.get(i),
                    "V",
                    Optional.of(value),
                    0.01,
                    Optional.empty(),
                    Optional.of(0.8),
                    fails ? "fail" : "pass"));
        }
        return new Archive.Entry(
                run(key, unit, type, asFound ? "as-found" : "as-left", at, failed ? "fail" : "pass"), checks);
    }

    /** A completed run of a real unit. */
    static ArchivedRun run(String key, String unit, String type, String stage, Instant at, String verdict) {
        return new ArchivedRun(
                key,
                "run-" + key,
                "/data/run-" + key,
                unit,
                type,
                stage,
                ArchivedRun.QUALIFICATION,
                at,
                Optional.of(at.plusSeconds(600)),
                "m. k.",
                "bench-2.toml",
                "0.1.0",
                false,
                "completed",
                "",
                "confirmed",
                verdict,
                "",
                Optional.empty(),
                false);
    }
}

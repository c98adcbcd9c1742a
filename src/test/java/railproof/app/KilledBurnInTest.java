package railproof.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.Measured;
import railproof.record.RunFolder;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;

/**
 * Burn-ins whose process is killed by SIGKILL at random instants, fifty times in all, and resumed by another process
 * each time: every row that was printed as being on disk is in the finished record, once, and so is every gap.
 */
@Tag("slow")
@Timeout(value = 30, unit = TimeUnit.MINUTES)
class KilledBurnInTest {
    private static final System.Logger LOG = System.getLogger(KilledBurnInTest.class.getName());
    /** A process that dies within a second or two: what the thorough compiler would do for it comes too late. */
    private static final List<String> SHORT_LIVED = List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC");

    private static final int KILLS = 50;
    private static final int KILLED_BY_SIGNAL = 128 + 9;
    private static final double ASKED_S = 2 * 3600;
    /** Each burn-in is killed at most so often: then it may come to its end. */
    private static final int KILLS_PER_RUN = 7;

    @TempDir(factory = NthExchangeTest.InMemory.class)
    private Path data = Path.of("");

    @Test
    void killedFiftyTimesNoPrintedRowIsLostNoneIsThereTwiceAndEveryGapIsOnRecord() throws Exception {
        List<Callable<Integer>> lanes = List.of(
                () -> killedAndResumed("tape-12v-latching", 1, KILLS / 2),
                () -> killedAndResumed("counter-175v", 1001, KILLS - KILLS / 2));
        ExecutorService threads = Executors.newFixedThreadPool(lanes.size());
        try {
            int kills = 0;
            for (Future<Integer> lane : threads.invokeAll(lanes)) {
                kills += lane.get();
            }
            assertEquals(KILLS, kills);
        } finally {
            threads.shutdownNow();
        }
    }

    /** One burn-in after another, until so many processes have died. */
    private int killedAndResumed(String profile, long firstSeed, int kills) throws Exception {
        int killed = 0;
        for (long seed = firstSeed; killed < kills; seed++) {
            Path own = Files.createDirectory(data.resolve(profile + "-" + seed));
            Victim victim = new Victim(profile, own, seed);
            killed += victim.killedUpTo(Math.min(KILLS_PER_RUN, kills - killed));
        }
        return killed;
    }

    /** One unit's burn-in. */
    private static final class Victim {
        private final String profile;
        private final Path data;
        private final long seed;
        private final Random random;
        private final List<String> printed = new ArrayList<>();
        private final List<Long> gapsS = new ArrayList<>();
        private Instant nextStart = Instant.parse("2026-01-05T08:00:00Z");
        private long gapS;
        private List<Point> kept = List.of();

        Victim(String profile, Path data, long seed) {
            this.profile = profile;
            this.data = data;
            this.seed = seed;
            this.random = new Random(seed);
        }

        /** Kills up to that often, then lets it come to its end and looks at the record. Says how often it was killed. */
        int killedUpTo(int most) throws Exception {
            int killed = 0;
            Optional<Integer> status = Optional.empty();
            while (killed < most && status.isEmpty()) {
                status = killedOnce();
                killed += status.isEmpty() ? 1 : 0;
            }
            if (status.isEmpty()) {
                Process process = start();
                take(process.getInputStream(), Integer.MAX_VALUE);
                status = Optional.of(process.waitFor());
            }
            LOG.log(
                    System.Logger.Level.INFO,
                    "{0}, seed {1}: killed {2} times, {3} rows printed, gaps {4} s",
                    profile,
                    seed,
                    killed,
                    printed.size(),
                    gapsS);
            // so few hours may leave ripple growth open: conditional, but judged
            assertTrue(
                    Set.of(ExitStatus.PASSED.code(), ExitStatus.NOT_JUDGED.code())
                            .contains(status.get()),
                    words());
            verifyFinished();
            return killed;
        }

        private Process start() throws Exception {
            List<Path> runs = RunFolder.runs(data);
            List<String> arguments = new ArrayList<>(List.of(
                    profile,
                    "SN-" + seed,
                    data.toString(),
                    Duration.ofSeconds((long) ASKED_S).toString(),
                    nextStart.toString()));
            runs.forEach(run -> arguments.add(run.toString()));
            return ControllerProcess.builder(SHORT_LIVED, BurnInChild.class, arguments.toArray(String[]::new))
                    .start();
        }

        /** Starts it and kills it after some rows and some microseconds; its exit status if it came to its end before. */
        private Optional<Integer> killedOnce() throws Exception {
            Process process = start();
            int rows = random.nextInt(8) == 0 ? 0 : 1 + random.nextInt(110);
            long afterNs = rows == 0 ? random.nextLong(1_200_000_000L) : random.nextLong(8_000_000L);
            take(process.getInputStream(), rows);
            TimeUnit.NANOSECONDS.sleep(afterNs);
            // not Process.destroyForcibly: that closes the pipe with what is in it
            process.toHandle().destroyForcibly();
            int status = process.waitFor();
            take(process.getInputStream(), Integer.MAX_VALUE);
            if (status != KILLED_BY_SIGNAL) {
                return Optional.of(status);
            }
            lookAtWhatIsLeft();
            return Optional.empty();
        }

        /** Takes so many lines, or all that there are; half a line at the end was not printed. */
        private void take(InputStream in, int lines) throws Exception {
            ByteArrayOutputStream line = new ByteArrayOutputStream();
            for (int taken = 0; taken < lines; ) {
                int next = in.read();
                if (next < 0) {
                    return;
                }
                if (next == '\n') {
                    printed.add(line.toString(UTF_8));
                    line.reset();
                    taken++;
                } else {
                    line.write(next);
                }
            }
        }

        private void lookAtWhatIsLeft() throws Exception {
            gapS = random.nextLong(1, 7201);
            List<Path> runs = RunFolder.runs(data);
            if (runs.isEmpty()) {
                assertEquals(List.of(), printed, words());
                return;
            }
            RunData run = RunFolder.read(runs.get(0));
            if (run.events().stream().noneMatch(RunEvent.BurnInPlanned.class::isInstance)) {
                // killed in the few milliseconds before its plan was on disk: it is begun anew
                assertEquals(List.of(), printed, words());
                Files.move(runs.get(0), data.resolveSibling(data.getFileName() + "-unplanned-" + random.nextInt()));
                return;
            }
            assertEquals(RunOutcome.End.INCOMPLETE, run.outcome().end(), words());
            assertEquals(kept, run.points().subList(0, kept.size()), words() + ": rows kept before were changed");
            kept = run.points();
            verifyPrinted();
            double lastS = Math.max(
                    kept.isEmpty() ? 0 : kept.get(kept.size() - 1).elapsedS(),
                    run.events().stream().mapToDouble(RunEvent::elapsedS).reduce(0, Math::max));
            nextStart =
                    run.header().startedAt().plusNanos(Math.round(lastS * 1e9)).plusSeconds(gapS);
            long resumed = resumed(run).size();
            if (resumed < gapsS.size()) {
                gapsS.remove(gapsS.size() - 1);
            }
            gapsS.add(gapS);
        }

        /** What was printed is on disk, in that order, once; a row may have been kept that nobody was told of yet. */
        private void verifyPrinted() {
            List<String> onDisk = kept.stream().map(Point::toString).toList();
            int from = 0;
            for (String row : printed) {
                int at = onDisk.subList(from, onDisk.size()).indexOf(row);
                assertTrue(at >= 0, words() + ": printed, but lost or there in another order: " + row);
                from += at + 1;
            }
            for (int i = 0; i < kept.size(); i++) {
                assertEquals(i, kept.get(i).index(), words());
            }
        }

        private static List<RunEvent.Resumed> resumed(RunData run) {
            return run.events().stream()
                    .filter(RunEvent.Resumed.class::isInstance)
                    .map(RunEvent.Resumed.class::cast)
                    .toList();
        }

        private void verifyFinished() throws Exception {
            assertEquals(1, RunFolder.runs(data).size(), words());
            Path folder = RunFolder.runs(data).get(0);
            RunData run = RunFolder.read(folder);
            assertEquals(kept, run.points().subList(0, kept.size()), words() + ": rows kept before were changed");
            kept = run.points();
            verifyPrinted();
            assertEquals(RunOutcome.End.COMPLETED, run.outcome().end(), words());
            assertEquals(
                    gapsS,
                    resumed(run).stream().map(gap -> Math.round(gap.gapS())).toList(),
                    words());
            assertTrue(Files.exists(folder.resolve("verdict.json")), words());
            double lastS = 0;
            double lastLoadedS = 0;
            for (Point point : kept) {
                assertTrue(point.elapsedS() >= lastS, words() + ", point " + point.index());
                lastS = point.elapsedS();
                double loadedS = loadedS(point, lastLoadedS);
                assertTrue(loadedS >= lastLoadedS, words() + ", point " + point.index());
                lastLoadedS = loadedS;
            }
            assertTrue(lastLoadedS >= ASKED_S, words() + ": loaded for " + lastLoadedS + " s");
            for (RunEvent.Resumed gap : resumed(run)) {
                assertTrue(
                        kept.stream()
                                .noneMatch(point ->
                                        point.elapsedS() > gap.brokeOffS() && point.elapsedS() < gap.elapsedS()),
                        words() + ": a row in the gap at " + gap.brokeOffS() + " s");
            }
            assertEquals(
                    1,
                    run.points(Section.BURN_IN_COOLED, run.points().get(0).rail())
                            .size(),
                    words());
        }

        private static double loadedS(Point point, double otherwiseS) {
            return point.reading(Quantity.LOADED_TIME)
                    .measured()
                    .map(Measured::value)
                    .orElse(otherwiseS);
        }

        private String words() {
            return profile + ", seed " + seed;
        }
    }
}

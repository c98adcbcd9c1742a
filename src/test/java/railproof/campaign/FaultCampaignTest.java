package railproof.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.AnnotatedElementContext;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.io.TempDirFactory;

/**
 * Every effect at every phase of every procedure: the simulated hardware ends off every time, asked of the plant itself
 * and not of the controller; status and cause are right; nothing raw is printed. The results are kept under
 * {@code target/fault-campaign}.
 */
class FaultCampaignTest {
    /** {@code -Drailproof.campaign.seed=N} repeats a campaign. */
    private static final long SEED = Long.getLong("railproof.campaign.seed", 20_261_125);
    /** {@code -Drailproof.soak.minutes=N}: campaigns with new seeds for so long. */
    private static final int SOAK_MINUTES = Integer.getInteger("railproof.soak.minutes", 0);

    @TempDir(factory = InMemory.class)
    private Path data = Path.of("");

    private final ConcurrentLinkedQueue<String> uncaught = new ConcurrentLinkedQueue<>();
    private Optional<Thread.UncaughtExceptionHandler> before = Optional.empty();

    /** Makes temporary folders in memory where the system offers that. */
    static final class InMemory implements TempDirFactory {
        @Override
        public Path createTempDirectory(AnnotatedElementContext element, ExtensionContext test) throws IOException {
            Path memory = Path.of("/dev/shm");
            return Files.isWritable(memory)
                    ? Files.createTempDirectory(memory, "railproof-test")
                    : Files.createTempDirectory("railproof-test");
        }
    }

    @BeforeEach
    void watchForUncaught() {
        before = Optional.ofNullable(Thread.getDefaultUncaughtExceptionHandler());
        Thread.setDefaultUncaughtExceptionHandler((thread, e) -> uncaught.add(thread.getName() + ": " + e));
    }

    @AfterEach
    void nothingWasUncaught() {
        Thread.setDefaultUncaughtExceptionHandler(before.orElse(null));
        assertEquals(List.of(), List.copyOf(uncaught));
    }

    @Test
    void aSampleOfTheCampaignEndsOffWithTheRightCause() throws Exception {
        List<Finding> findings = campaign(List.of("load-sweep"), SEED, 9);

        requireGood(findings, SEED);
    }

    @Test
    @Tag("slow")
    void everyEffectAtEveryPhaseOfEveryProcedureEndsOffWithTheRightCause() throws Exception {
        List<Finding> findings = campaign(FaultCampaign.PROCEDURES, SEED, 1);

        System.out.println(ResultsTable.write(folder(), findings, SEED));
        assertTrue(findings.size() >= 1000, "only " + findings.size() + " faults");
        requireGood(findings, SEED);
    }

    @Test
    @Tag("soak")
    void everyNewSeedEndsOffToo() throws Exception {
        long endMs = System.currentTimeMillis() + 60_000L * Math.max(1, SOAK_MINUTES);
        List<Finding> bad = new ArrayList<>();
        long faults = 0;
        for (long seed = System.currentTimeMillis(); System.currentTimeMillis() < endMs; seed++) {
            List<Finding> findings = campaign(FaultCampaign.PROCEDURES, seed, 1);
            faults += findings.size();
            findings.stream().filter(finding -> !finding.good()).forEach(bad::add);
            System.out.println(
                    "seed " + seed + ": " + findings.size() + " faults, " + faults + " in all, " + bad.size() + " bad");
            ResultsTable.write(folder(), findings, seed);
        }
        requireGood(bad, 0);
    }

    private static Path folder() {
        return Path.of(System.getProperty("railproof.build.dir", "target"), "fault-campaign");
    }

    private static void requireGood(List<Finding> findings, long seed) {
        String bad = findings.stream()
                .filter(finding -> !finding.good())
                .map(Finding::toString)
                .collect(Collectors.joining("\n"));
        assertEquals("", bad, "seed " + seed);
    }

    /** Two at a time: each has a bench and threads of its own. */
    private List<Finding> campaign(List<String> procedures, long seed, int stride) throws Exception {
        FaultCampaign campaign = new FaultCampaign(data);
        ExecutorService two = Executors.newFixedThreadPool(2);
        try {
            List<Callable<Finding>> tasks = new ArrayList<>();
            for (String procedure : procedures) {
                FaultCampaign.Clean clean = campaign.clean(procedure);
                List<FaultCampaign.Injection> plan =
                        FaultCampaign.plan(clean, procedure.equals(procedures.get(0)), seed);
                for (int i = 0; i < plan.size(); i += stride) {
                    FaultCampaign.Injection injection = plan.get(i);
                    tasks.add(() -> Finding.of(injection, campaign.struck(injection), clean.status()));
                }
            }
            List<Finding> findings = new ArrayList<>();
            for (Future<Finding> done : two.invokeAll(tasks)) {
                findings.add(done.get());
            }
            return Collections.unmodifiableList(findings);
        } finally {
            two.shutdownNow();
        }
    }
}

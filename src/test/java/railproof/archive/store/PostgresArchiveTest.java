package railproof.archive.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import railproof.archive.RunFilter;
import railproof.archive.SampleRuns;

/** The same on PostgreSQL, and what only a server can do: go away. Needs the system's package. */
@Tag("postgres")
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class PostgresArchiveTest extends ArchiveContract {
    private static PostgresServer server;

    @BeforeAll
    static void start() throws Exception {
        server = new PostgresServer();
    }

    @AfterAll
    static void stop() throws Exception {
        server.close();
    }

    @Override
    ArchiveAddress address() throws Exception {
        return server.fresh();
    }

    @Test
    void aWrongPasswordIsRefusedAndNotShown() throws Exception {
        ArchiveAddress wrong = ArchiveAddress.of("test", server.url("postgres"), "not-this-one");
        String message = String.valueOf(
                assertThrows(ArchiveException.class, () -> Archive.open(wrong)).getMessage());
        assertTrue(message.contains("bench"), message);
        assertFalse(message.contains("not-this-one"), message);
    }

    /** Each bench goes on after a failure by opening again and taking the same run in once more, as the program does. */
    @Test
    void nothingIsLostOrDoubledWhenTheServerGoesDownUnderEightBenches() throws Exception {
        ArchiveAddress address = server.fresh();
        Archive.open(address).close();
        int each = 150;
        AtomicInteger done = new AtomicInteger();
        AtomicInteger failures = new AtomicInteger();
        CountDownLatch ended = new CountDownLatch(8);
        List<String> mistakes = Collections.synchronizedList(new ArrayList<>());
        for (int bench = 0; bench < 8; bench++) {
            String name = "bench" + bench;
            new Thread(
                            () -> {
                                try {
                                    persist(address, name, each, done, failures);
                                } catch (InterruptedException e) {
                                    mistakes.add(String.valueOf(e));
                                } finally {
                                    ended.countDown();
                                }
                            },
                            name)
                    .start();
        }
        for (int stops = 1; stops <= 3; stops++) {
            while (done.get() < stops * each) {
                Thread.onSpinWait();
                TimeUnit.MILLISECONDS.sleep(5);
            }
            server.stop();
            TimeUnit.MILLISECONDS.sleep(300);
            server.start();
        }
        assertTrue(ended.await(3, TimeUnit.MINUTES));
        assertEquals(List.of(), mistakes);
        assertTrue(failures.get() > 0, "the server was missed at least once");
        try (Archive archive = Archive.open(address)) {
            Set<String> expected = new HashSet<>();
            for (int bench = 0; bench < 8; bench++) {
                for (int n = 0; n < each; n++) {
                    expected.add(SampleRuns.entry("bench" + bench, n).run().key());
                }
            }
            List<String> found = archive.runs(RunFilter.ALL, 100_000).stream()
                    .map(run -> run.key())
                    .toList();
            assertEquals(expected.size(), found.size());
            assertEquals(expected, Set.copyOf(found));
            assertEquals(
                    Set.of(12L),
                    Set.copyOf(archive.checks(RunFilter.ALL).stream()
                            .collect(Collectors.groupingBy(check -> check.runKey(), Collectors.counting()))
                            .values()));
        }
        System.out.println("failures while the server was down three times: " + failures);
    }

    private static void persist(
            ArchiveAddress address, String bench, int each, AtomicInteger done, AtomicInteger failures)
            throws InterruptedException {
        int n = 0;
        while (n < each) {
            try (Archive archive = Archive.open(address)) {
                while (n < each) {
                    archive.ingest(List.of(SampleRuns.entry(bench, n)));
                    n++;
                    done.incrementAndGet();
                }
            } catch (ArchiveException e) {
                failures.incrementAndGet();
                TimeUnit.MILLISECONDS.sleep(50);
            }
        }
    }
}

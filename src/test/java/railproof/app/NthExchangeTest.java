package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.LongFunction;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.extension.AnnotatedElementContext;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.io.TempDirFactory;
import railproof.record.RunFolder;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.sim.FaultyLink;
import railproof.sim.LinkEffect;
import railproof.sim.SimulatedBench;

/**
 * A whole run repeated with the N-th exchange failing, for every N: whatever fails, nothing is left on, one cause is
 * named, the folder can be read and the exit status is right.
 */
class NthExchangeTest {
    /** Thousands of runs that each force every point to disk: a file system in memory if there is one. */
    @TempDir(factory = InMemory.class)
    private Path data = Path.of("");

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

    /** Every single exchange takes half an hour: {@code -Drailproof.exchangeStride=1}. */
    private static final int STRIDE = Integer.getInteger("railproof.exchangeStride", 13);

    /** The effects that a cable can have; garbage is seeded by the exchange's number. */
    private enum Kind {
        SILENCE,
        GARBAGE,
        SHORT_WRITE,
        GONE;

        /** Another first exchange for each kind, so that strides do not all miss the same ones. */
        long start(int stride) {
            return 1L + Math.floorMod(name().hashCode(), stride);
        }

        LinkEffect effect(long n) {
            return switch (this) {
                case SILENCE -> new LinkEffect.Silence();
                case GARBAGE -> new LinkEffect.Garbage(n);
                case SHORT_WRITE -> new LinkEffect.ShortWrite(1);
                case GONE -> new LinkEffect.Gone();
            };
        }
    }

    @TestFactory
    Stream<DynamicTest> everySixtyFirstExchangeFailing() throws Exception {
        return everyNth(61);
    }

    @TestFactory
    @Tag("slow")
    Stream<DynamicTest> everyFewExchangesFailing() throws Exception {
        return everyNth(STRIDE);
    }

    private Stream<DynamicTest> everyNth(int stride) throws Exception {
        long exchanges = countExchanges();
        return Stream.of(Kind.values())
                .map(kind ->
                        DynamicTest.dynamicTest(kind + ", every " + stride + ". of " + exchanges + " exchanges", () -> {
                            for (long n = kind.start(stride); n <= exchanges; n += stride) {
                                survives(kind, n);
                            }
                        }));
    }

    private long countExchanges() throws Exception {
        AtomicLong count = new AtomicLong();
        run(n -> {
            count.incrementAndGet();
            return new LinkEffect.None();
        });
        assertTrue(count.get() > 100, "a run of " + count.get() + " exchanges would prove little");
        return count.get();
    }

    private record Ran(PlainBench bench, RunResult result) {}

    private Ran run(LongFunction<LinkEffect> plan) throws Exception {
        PlainBench bench = new PlainBench();
        return new Ran(bench, bench.run(data, link -> new FaultyLink(link, plan)));
    }

    private void survives(Kind kind, long nth) throws Exception {
        AtomicLong count = new AtomicLong();
        Ran ran = run(n -> count.incrementAndGet() == nth ? kind.effect(nth) : new LinkEffect.None());
        String where = kind + " at exchange " + nth + ": " + ran.result().run().outcome();

        SimulatedBench.Sight sight = ran.bench().sightLater();
        assertEquals(0, sight.loadCurrentA(), where);
        RunOutcome outcome = ran.result().run().outcome();
        if (outcome.safeState() == SafeState.CONFIRMED) {
            assertFalse(sight.lineLive(), where);
        }
        if (outcome.completed()) {
            // one lost exchange was repeated, or the link failed only after the last point; nothing of it may show in
            // the verdict
            assertEquals(SafeState.CONFIRMED, outcome.safeState(), where);
            assertEquals(ExitStatus.PASSED, ran.result().status(), where);
        } else {
            assertEquals(RunOutcome.End.FAULTED, outcome.end(), where);
            assertFalse(outcome.cause().isBlank(), where);
            assertFalse(outcome.cause().contains("a bug in the program"), where);
            ExitStatus right =
                    outcome.safeState() == SafeState.CONFIRMED ? ExitStatus.RIG_TROUBLE : ExitStatus.NOT_SAFE;
            assertEquals(right, ran.result().status(), where);
        }
        RunData readBack = RunFolder.read(ran.result().folder());
        assertEquals(outcome, readBack.outcome(), where);
        delete(ran.result().folder());
    }

    @Test
    void aLinkThatIsGoneFromTheStartLeavesARecordOfIt() throws Exception {
        Ran ran = run(n -> new LinkEffect.Gone());

        assertEquals(RunOutcome.End.FAULTED, ran.result().run().outcome().end());
        assertEquals(ExitStatus.NOT_SAFE, ran.result().status());
        assertEquals(0, ran.bench().sightLater().loadCurrentA());
    }

    private static void delete(Path folder) throws Exception {
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(file);
            }
        }
    }
}

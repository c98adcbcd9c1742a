package railproof.ui;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import railproof.app.BenchAccess;
import railproof.app.Benches;
import railproof.app.RunRequest;
import railproof.base.BadFileException;
import railproof.base.Clock;
import railproof.rig.file.BuiltInFiles;
import railproof.sim.FaultyLink;
import railproof.sim.LinkEffect;

/** A simulated bench whose cables can be pulled, and whose time can be held to look at what it shows. */
final class TroubledBench implements Shell.BenchSource {
    private final Set<String> pulled = ConcurrentHashMap.newKeySet();
    private volatile boolean held;
    private volatile boolean slow;

    /** A rig file of a simulated bench with a line that is turned by hand. */
    static Path handTurned(Path file) throws java.io.IOException {
        return Files.writeString(
                file,
                BuiltInFiles.rig("simulated-bench")
                        .source()
                        .text()
                        .replaceFirst("(?m)^line-source = .*$", "")
                        .replaceFirst(
                                "(?s)\\[line\\].*?settle_ms = 400",
                                """
                                [line]
                                kind = "operator"
                                channel = "line"
                                min_V = 0
                                max_V = 140
                                frequency_Hz = 60
                                band_pct = 1
                                settle_ms = 400"""));
    }

    /** Pulls cables out. */
    void pull(String... links) {
        pulled.addAll(Set.of(links));
    }

    /** Stands still at its next wait. */
    void hold() {
        held = true;
    }

    /** Its minutes take as long as people's do. */
    void slow() {
        slow = true;
    }

    /** Goes on, as fast as it can. */
    void goOn() {
        held = false;
        slow = false;
    }

    @Override
    public BenchAccess open(RunRequest request) throws BadFileException {
        BenchAccess whole = Benches.open(request);
        return new BenchAccess(
                new HeldClock(whole.clock()),
                (link, clock) -> new FaultyLink(
                        whole.links().open(link, clock),
                        n -> pulled.contains(link.name()) ? new LinkEffect.Gone() : new LinkEffect.None()),
                whole.simulated(),
                whole.simulatedUnit());
    }

    private final class HeldClock implements Clock {
        private final Clock clock;

        HeldClock(Clock clock) {
            this.clock = clock;
        }

        @Override
        public long nowNs() {
            return clock.nowNs();
        }

        @Override
        public Instant wallTime() {
            return clock.wallTime();
        }

        @Override
        public void sleepNs(long durationNs) throws InterruptedException {
            if (slow) {
                TimeUnit.MILLISECONDS.sleep(5);
            }
            while (held) {
                TimeUnit.MILLISECONDS.sleep(5);
            }
            clock.sleepNs(durationNs);
        }
    }
}

package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.app.BenchAccess;
import railproof.app.Benches;
import railproof.app.ExitStatus;
import railproof.base.Clock;
import railproof.record.RunFolder;
import railproof.rig.file.BuiltInFiles;
import railproof.run.RunOutcome;
import railproof.sim.FaultyLink;
import railproof.sim.LinkEffect;

/** What the window does when the bench or the operator does not answer. */
@Tag("window")
class WindowBenchTroubleTest {
    @TempDir
    private Path data = Path.of("");

    private RunOutcome onlyOutcome() throws Exception {
        List<Path> runs = RunFolder.runs(data);
        assertEquals(1, runs.size(), "run folders");
        return RunFolder.read(runs.get(0)).outcome();
    }

    @Test
    void aLoadUnpluggedInMidRunEndsItAndRaisesAnAlarmUntilItIsSeen() throws Exception {
        AtomicBoolean pulled = new AtomicBoolean();
        Shell.BenchSource benches = request -> {
            BenchAccess whole = Benches.open(request);
            return new BenchAccess(
                    whole.clock(),
                    (link, clock) -> link.name().equals("load-1")
                            ? new FaultyLink(
                                    whole.links().open(link, clock),
                                    n -> pulled.get() ? new LinkEffect.Gone() : new LinkEffect.None())
                            : whole.links().open(link, clock),
                    whole.simulated(),
                    whole.simulatedUnit());
        };
        try (WindowBench window = new WindowBench(
                new WindowSettings("simulated-bench", data, "test", Optional.empty()), benches, 1024, 768)) {
            window.begin("LC-2107", "counter-5v", "now");
            window.untilSays("load-state", "LOAD ON");
            // seen from another screen, the run goes on and the stop stays
            window.key(KeyCode.F4);
            window.untilSays("wants", "Under way: the test of unit LC-2107");
            assertTrue(window.shows("stop"), "the stop is on every screen");
            pulled.set(true);
            window.untilSays("alarm", "load-1");
            window.untilSays("wants", "Over: the test of unit LC-2107");
            window.picture("trouble-alarm");
            window.key(KeyCode.F8);
            window.until("the alarm was seen", () -> !NodeWalk.seen(window.lookup("alarm")));
            window.key(KeyCode.F2);
            window.untilShown("verdict");
            window.picture("trouble-verdict");
            assertTrue(window.text("verdict").contains("not complete"), window.text("verdict"));
        }
        RunOutcome outcome = onlyOutcome();
        assertEquals(RunOutcome.End.FAULTED, outcome.end());
        assertTrue(outcome.cause().contains("load-1"), outcome.cause());
    }

    /** A simulated bench's clock that can be told to take its time. */
    private record SlowClock(Clock clock, AtomicBoolean slow) implements Clock {
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
            if (slow.get()) {
                TimeUnit.MILLISECONDS.sleep(5);
            }
            clock.sleepNs(durationNs);
        }
    }

    @Test
    void aQuestionNobodyAnswersIsShownEverywhereAndEndsTheRunSafely() throws Exception {
        Path rig = data.resolveSibling(data.getFileName() + "-hand-turned.toml");
        Files.writeString(
                rig,
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
        AtomicBoolean slow = new AtomicBoolean();
        Shell.BenchSource benches = request -> {
            BenchAccess whole = Benches.open(request);
            return new BenchAccess(
                    new SlowClock(whole.clock(), slow), whole.links(), whole.simulated(), whole.simulatedUnit());
        };
        try (WindowBench window = new WindowBench(
                new WindowSettings(rig.toString(), data, "test", Optional.empty()), benches, 1280, 800)) {
            window.begin("LC-2107", "counter-5v", "now");
            window.until("the line is to be turned", () -> {
                boolean asked = window.lookup("prompt") instanceof javafx.scene.control.Label prompt
                        && prompt.getText().startsWith("Line: ");
                // from here on the bench's five minutes of patience take as long as the test needs
                slow.compareAndSet(false, asked);
                return asked;
            });
            window.focused("answer");
            window.picture("trouble-prompt");
            window.key(KeyCode.F7);
            window.untilSays("wants", "ASKS FOR YOU");
            window.picture("trouble-prompt-elsewhere");
            slow.set(false);
            window.key(KeyCode.F2);
            window.untilShown("verdict");
            assertTrue(window.text("load-state").contains("confirmed"), window.text("load-state"));
            assertEquals(ExitStatus.RIG_TROUBLE, window.status());
        } finally {
            Files.deleteIfExists(rig);
        }
        RunOutcome outcome = onlyOutcome();
        assertEquals(RunOutcome.End.STOPPED, outcome.end(), outcome.cause());
    }
}

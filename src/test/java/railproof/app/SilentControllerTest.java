package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.record.RunFolder;
import railproof.run.RunData;
import railproof.run.RunOutcome;

/**
 * The controller's process falls silent in the middle of a sweep, by a signal that it cannot catch, or its cable is
 * pulled: the firmware on the emulated processor switches off. The outputs are read from outside the firmware, in the
 * emulator's register; when they went off is read in the memory that it shares with the bench, in ticks of the device.
 */
@Tag("qemu")
@Tag("wallclock")
@Timeout(value = 4, unit = TimeUnit.MINUTES)
class SilentControllerTest {
    private static final int ALL_OFF = 0;
    private static final int LOAD = 1;

    @Test
    void aStoppedControllerLosesTheBenchWithinTheHeartbeatsLimit(@TempDir Path folder) throws Exception {
        try (EmulatedBench bench = new EmulatedBench(folder, "counter-5v", "")) {
            Process controller = ControllerProcess.test(bench.rigFile(), folder.resolve("data"));
            await("the load on", () -> bench.anyLoadInputOn() && (bench.board.outputsOutside() & LOAD) != 0);
            ControllerProcess.signal(controller, "STOP");
            long stoppedTicks = bench.ticks(); // it is stopped by now

            await("outputs off", () -> bench.board.outputsOutside() == ALL_OFF);

            assertTrue(controller.isAlive(), "the controller is there, but stopped");
            await("off in the window", () -> bench.offTicks() > stoppedTicks);
            // time-out 2 s + 5 ms, then relays 10 ms + 1 ms, and 8 ms for the contacts (PROTOCOL.md section 8); the
            // rest is for the clock's reading, published every 0.5 ms, and for a last word that was on its way
            assertTrue(bench.offTicks() - stoppedTicks < 2_100_000, bench.offTicks() - stoppedTicks + " ticks");
            ControllerProcess.signal(controller, "CONT");
            assertTrue(controller.waitFor(60, TimeUnit.SECONDS), "the controller ends when it goes on");
            assertFalse(bench.anyLoadInputOn(), "the load's own input");
            assertEquals(ALL_OFF, bench.board.outputsOutside());
        }
        RunData run = RunFolder.read(RunFolder.runs(folder.resolve("data")).get(0));
        assertEquals(RunOutcome.End.FAULTED, run.outcome().end(), run.outcome().toString());
    }

    @Test
    void aPulledCableEndsTheRunAndTheBoardSwitchesOffAlone(@TempDir Path folder) throws Exception {
        try (EmulatedBench bench = new EmulatedBench(folder, "counter-5v", "")) {
            Process controller = ControllerProcess.test(bench.rigFile(), folder.resolve("data"));
            await("the load on", () -> bench.anyLoadInputOn() && (bench.board.outputsOutside() & LOAD) != 0);

            bench.board.pull();

            await("outputs off", () -> bench.board.outputsOutside() == ALL_OFF);
            assertTrue(controller.waitFor(60, TimeUnit.SECONDS), "the controller ends");
            assertFalse(bench.anyLoadInputOn(), "the load was switched off on its own line");
            assertTrue(controller.exitValue() != 0 && controller.exitValue() != 1, "status " + controller.exitValue());
        }
    }

    @Test
    void aBoardThatRestartsEndsTheRun(@TempDir Path folder) throws Exception {
        try (EmulatedBench bench = new EmulatedBench(folder, "counter-5v", "")) {
            Process controller = ControllerProcess.test(bench.rigFile(), folder.resolve("data"));
            await("the load on", () -> bench.anyLoadInputOn() && (bench.board.outputsOutside() & LOAD) != 0);

            bench.board.ask("system_reset");

            await("outputs off", () -> bench.board.outputsOutside() == ALL_OFF);
            assertTrue(controller.waitFor(60, TimeUnit.SECONDS), "the controller ends");
            assertEquals(ExitStatus.RIG_TROUBLE.code(), controller.exitValue());
            assertFalse(bench.anyLoadInputOn());
        }
        RunData run = RunFolder.read(RunFolder.runs(folder.resolve("data")).get(0));
        assertEquals(RunOutcome.End.FAULTED, run.outcome().end());
    }

    private static void await(String what, Callable<Boolean> seen) throws Exception {
        for (int tries = 0; tries < 12_000; tries++) {
            if (seen.call()) {
                return;
            }
            TimeUnit.MILLISECONDS.sleep(5);
        }
        throw new AssertionError("never came: " + what);
    }
}

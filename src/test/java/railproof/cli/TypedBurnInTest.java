package railproof.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.app.ExitStatus;
import railproof.record.RunFolder;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** Burn-ins of simulated units from the command line, somebody at the keyboard, in virtual time. */
@Timeout(value = 3, unit = TimeUnit.MINUTES)
class TypedBurnInTest {
    private static final String A = "LC-1";
    private static final String B = "LC-2";

    private final Path data;
    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream err = new ByteArrayOutputStream();
    private final PipedOutputStream keys = new PipedOutputStream();

    TypedBurnInTest(@TempDir Path data) {
        this.data = data;
    }

    /** Nobody types any more: whoever still reads comes to the end. */
    @AfterEach
    void closeTheKeyboard() throws IOException {
        keys.close();
    }

    private int run(InputStream in, String... arguments) {
        List<String> all = new ArrayList<>(List.of("burn-in", "--data", data.toString()));
        all.addAll(List.of(arguments));
        return new CommandLineFace(
                        new PrintStream(out, true, StandardCharsets.UTF_8),
                        new PrintStream(err, true, StandardCharsets.UTF_8),
                        in,
                        (rig, folder, operator, file) -> ExitStatus.BAD_INPUT)
                .run(all.toArray(String[]::new));
    }

    private static String[] units(String hours, String... serials) {
        List<String> arguments = new ArrayList<>(List.of("--hours", hours));
        for (String serial : serials) {
            arguments.addAll(List.of("--rig", "simulated-bench", "--profile", "tape-12v-latching", "--unit", serial));
        }
        return arguments.toArray(String[]::new);
    }

    private CompletableFuture<Integer> started(String... arguments) throws IOException {
        PipedInputStream in = new PipedInputStream(keys);
        return CompletableFuture.supplyAsync(() -> run(in, arguments));
    }

    private void type(String line) throws IOException {
        keys.write((line + "\n").getBytes(StandardCharsets.UTF_8));
        keys.flush();
    }

    /** Waits until the screen shows it. */
    private void await(String text, CompletableFuture<Integer> running) throws InterruptedException {
        while (!shown().contains(text)) {
            assertFalse(running.isDone() && !shown().contains(text), "never shown: " + text + "\n" + shown());
            TimeUnit.MILLISECONDS.sleep(2);
        }
    }

    private String shown() {
        return err.toString(StandardCharsets.UTF_8);
    }

    private RunData record(String serial) throws Exception {
        for (Path folder : RunFolder.runs(data)) {
            RunData run = RunFolder.read(folder);
            if (run.header().unitSerial().equals(serial)) {
                return run;
            }
        }
        throw new AssertionError("no record of " + serial);
    }

    @Test
    void oneUnitIsPausedAndStoppedWhileTheOtherRunsToItsEnd() throws Exception {
        CompletableFuture<Integer> running = started(units("0.1", A, B));
        // a unit that stands still cannot come to its end before all is typed
        type("p " + A);
        await(A + "  paused: load and line off", running);
        type("");
        await(A + "  paused, ", running);
        type("s " + A);
        await(A + "  stopped after ", running);

        assertEquals(ExitStatus.RIG_TROUBLE.code(), running.get(), shown());

        RunData stopped = record(A);
        assertEquals(RunOutcome.End.STOPPED, stopped.outcome().end());
        assertEquals("stopped by the operator", stopped.outcome().cause());
        assertEquals(SafeState.CONFIRMED, stopped.outcome().safeState());
        RunData other = record(B);
        assertEquals(
                RunOutcome.End.COMPLETED, other.outcome().end(), other.outcome().cause());
        assertFalse(shown().contains(B + "  paused"), shown());
    }

    @Test
    void whatIsNotUnderstoodIsSaidToBeSoAndChangesNothing() throws Exception {
        CompletableFuture<Integer> running = started(units("0.1", A, B));
        type("p " + A);
        await(A + "  paused: load and line off", running);
        type("p");
        await("Which unit? There are: LC-1", running);
        type("p LC-9");
        await("No unit \"LC-9\" is being burnt in. There are: LC-1", running);
        type("stop everything \u0007 now");
        await("Not understood: \"stop everything", running);
        type("c " + A);
        await(A + "  continued after a pause of ", running);
        keys.close();

        assertEquals(ExitStatus.PASSED.code(), running.get(), shown());
        assertEquals(RunOutcome.End.COMPLETED, record(A).outcome().end());
        assertEquals(RunOutcome.End.COMPLETED, record(B).outcome().end());
    }

    @Test
    void anEndOfTheInputIsNoCommandAndASingleUnitNeedsNoName() throws Exception {
        CompletableFuture<Integer> running = started(units("0.1", A));
        type("P");
        await(A + "  paused: load and line off", running);
        type("c");
        await(A + "  continued after a pause of ", running);
        keys.close();

        assertEquals(ExitStatus.PASSED.code(), running.get(), shown());
        assertTrue(out.toString(StandardCharsets.UTF_8).contains("Time under load"), shown());
    }

    @Test
    void aBadCommandLineIsRefusedBeforeAnythingIsTouched() {
        assertEquals(ExitStatus.BAD_INPUT.code(), run(InputStream.nullInputStream(), units("0.001", A)));
        assertTrue(shown().contains("--hours: must be 0.01 to 168; found 0.001"), shown());
        assertEquals(ExitStatus.BAD_INPUT.code(), run(InputStream.nullInputStream(), units("1", A, A)));
        assertTrue(shown().contains("unit LC-1 stands twice"), shown());
        assertEquals(
                ExitStatus.BAD_INPUT.code(),
                run(InputStream.nullInputStream(), "--rig", "simulated-bench", "--unit", A),
                shown());
        assertTrue(shown().contains("--profile=FILE"), shown());
        assertEquals(
                ExitStatus.BAD_INPUT.code(),
                run(
                        InputStream.nullInputStream(),
                        "--rig",
                        "one-rail-bench",
                        "--profile",
                        "counter-5v",
                        "--unit",
                        A,
                        "--rig",
                        "one-rail-bench",
                        "--profile",
                        "counter-5v",
                        "--unit",
                        B));
        assertTrue(shown().contains("units LC-1 and LC-2 would share the rig one-rail-bench"), shown());
        assertTrue(shown().contains("units LC-1 and LC-2 would share the port "), shown());
    }
}

package railproof.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class HelpTest {
    @ParameterizedTest
    @ValueSource(
            strings = {
                "test",
                "burn-in",
                "judge",
                "compare",
                "diagnose",
                "sign-off",
                "verify",
                "history",
                "archive",
                "check-rig",
                "calibrate",
                "ports",
                "simulate"
            })
    void everyCommandExplainsItself(String command) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        CommandLineFace face =
                new CommandLineFace(new PrintStream(out), new PrintStream(err), InputStream.nullInputStream());

        int status = face.run(command, "--help");

        assertEquals("", err.toString(StandardCharsets.UTF_8));
        assertEquals(0, status);
        String text = out.toString(StandardCharsets.UTF_8);
        assertTrue(text.startsWith("Usage: railproof " + command), text);
        assertTrue(text.lines().allMatch(line -> line.length() <= 96), text);
    }
}

package railproof;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;

/** The watch itself is over this class too: it fails if the socket counts. */
class LeakWatchTest {
    @Test
    void aListOfThreadsAskedForFromOutsideIsNoLeak() throws Exception {
        Path tool = Path.of(System.getProperty("java.home"), "bin", "jcmd");
        Assumptions.assumeTrue(Files.isExecutable(tool), "a JDK's tools");

        Process look = new ProcessBuilder(
                        tool.toString(), String.valueOf(ProcessHandle.current().pid()), "Thread.print")
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start();

        assertEquals(0, look.waitFor());
    }
}

package railproof.wire.serial;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.SystemClock;
import railproof.wire.LinkException;

/** What an ended process still says on its serial port. Needs socat. */
@Tag("process")
@Tag("wallclock")
@Timeout(value = 60, unit = TimeUnit.SECONDS)
class ExitProcessTest {
    @Test
    void saysOffWhenTheProcessIsTerminated(@TempDir Path folder) throws Exception {
        PtyPair cable = PtyPair.plug(folder);
        Process probe = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-cp",
                        System.getProperty("java.class.path"),
                        ExitProbe.class.getName(),
                        cable.near.toString())
                .inheritIO()
                .start();
        try (SerialLink far =
                SerialLink.open("far", SerialSettings.text(cable.far.toString(), 9600), SystemClock.INSTANCE)) {
            assertTrue(hear(far, "READY\n").endsWith("READY\n"));

            probe.destroy(); // SIGTERM

            assertTrue(hear(far, "OFF\n").endsWith("OFF\n"));
            assertTrue(probe.waitFor(20, TimeUnit.SECONDS));
        } finally {
            probe.destroyForcibly().waitFor();
            cable.pull();
        }
    }

    private static String hear(SerialLink link, String until) throws LinkException, InterruptedException {
        StringBuilder heard = new StringBuilder();
        byte[] buffer = new byte[100];
        int count = 1;
        while (count > 0 && heard.indexOf(until) < 0) {
            count = link.read(buffer, 20_000_000_000L);
            heard.append(new String(buffer, 0, count, StandardCharsets.US_ASCII));
        }
        return heard.toString();
    }
}

package railproof.wire.serial;

import java.nio.charset.StandardCharsets;
import java.util.concurrent.TimeUnit;
import railproof.base.SystemClock;
import railproof.wire.LinkException;

/** A process that holds a port until it is ended, and has promised to say OFF before. Started by a test. */
final class ExitProbe {
    private ExitProbe() {}

    public static void main(String[] args) throws LinkException, InterruptedException {
        SerialLink link = SerialLink.open("probe", SerialSettings.text(args[0], 9600), SystemClock.INSTANCE);
        link.beforeExit(() -> {
            sleepQuietly(); // the work that a real program does before it can say OFF
            link.emergencyWrite("OFF\n".getBytes(StandardCharsets.US_ASCII));
        });
        link.write("READY\n".getBytes(StandardCharsets.US_ASCII));
        TimeUnit.MINUTES.sleep(5);
    }

    private static void sleepQuietly() {
        try {
            TimeUnit.MILLISECONDS.sleep(50);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}

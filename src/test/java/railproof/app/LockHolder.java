package railproof.app;

import java.nio.file.Path;
import railproof.record.BrokenOffRun;

/** A process that takes hold of a run that broke off, says so, and keeps it until its input ends. */
final class LockHolder {
    private LockHolder() {}

    public static void main(String[] arguments) throws Exception {
        try (BrokenOffRun held = BrokenOffRun.hold(Path.of(arguments[0]))) {
            System.out.println("held: " + held.run().points().size() + " points");
            while (System.in.read() >= 0) {
                // until the input ends
            }
        }
    }
}

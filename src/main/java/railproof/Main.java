package railproof;

import railproof.cli.CommandLineFace;
import railproof.ui.BenchWindow;
import railproof.ui.WindowSettings;

/** Starts the program. The only place that ends the process. */
public final class Main {
    private Main() {}

    /** Runs the command line and ends with its exit status. */
    public static void main(String[] args) {
        CommandLineFace face = new CommandLineFace(
                System.out,
                System.err,
                System.in,
                (rig, data, operator, file) -> BenchWindow.open(new WindowSettings(rig, data, operator, file)));
        // an exit hook ends the process with the same status when a signal came first
        face.onInterruptedExit(status -> Runtime.getRuntime().halt(status));
        System.exit(face.run(args));
    }
}

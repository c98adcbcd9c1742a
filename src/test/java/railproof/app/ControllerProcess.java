package railproof.app;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import railproof.Main;

/** The program, or a test's own main class, in a process of its own, and signals to it. */
final class ControllerProcess {
    private ControllerProcess() {}

    /** Starts {@code railproof test} of a 5 V unit; its report is thrown away, its troubles are shown. */
    static Process test(Path rig, Path data) throws IOException {
        return test(rig, data, ProcessBuilder.Redirect.INHERIT);
    }

    /** The same with its troubles going somewhere else. */
    static Process test(Path rig, Path data, ProcessBuilder.Redirect troubles) throws IOException {
        return builder(
                        Main.class,
                        "test",
                        "--rig",
                        rig.toString(),
                        "--profile",
                        "counter-5v",
                        "--unit",
                        "LC-2107",
                        "--data",
                        data.toString())
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .redirectError(troubles)
                .start();
    }

    /** A process to be started, with this one's classes. */
    static ProcessBuilder builder(Class<?> main, String... arguments) {
        return builder(List.of(), main, arguments);
    }

    /** The same with options for its virtual machine. */
    static ProcessBuilder builder(List<String> options, Class<?> main, String... arguments) {
        // a shell that runs its jobs in the background leaves SIGINT ignored, and Java would keep it so
        List<String> command = new ArrayList<>(List.of("env", "--default-signal=INT"));
        command.addAll(ServedBench.java());
        command.addAll(options);
        command.add(main.getName());
        command.addAll(List.of(arguments));
        return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT);
    }

    /** Sends a signal by its name and returns when it was sent. */
    static void signal(Process process, String name) throws IOException, InterruptedException {
        new ProcessBuilder("kill", "-" + name, Long.toString(process.pid()))
                .start()
                .waitFor();
    }
}

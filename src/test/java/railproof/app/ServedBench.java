package railproof.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import railproof.Main;
import railproof.wire.serial.PtyPair;

/** The simulated bench in a process of its own, behind one pair of pseudo-terminals per instrument. Needs socat. */
final class ServedBench implements AutoCloseable {
    static final List<String> LINKS = List.of("board", "line-source", "load-1", "load-2", "load-3", "load-4");

    private final Map<String, PtyPair> cables = new TreeMap<>();
    private final BlockingQueue<String> seen = new LinkedBlockingQueue<>();
    private final Process server;

    ServedBench(Path folder, String profile, boolean lockstep) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(java());
        command.addAll(List.of(Main.class.getName(), "simulate", "--rig", "simulated-bench", "--profile", profile));
        for (String link : LINKS) {
            command.addAll(List.of("--port", link + "=" + cable(folder, link).far()));
        }
        if (lockstep) {
            command.addAll(List.of("--lockstep", cable(folder, "time").far().toString()));
        }
        server = new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        BufferedReader lines = server.inputReader(StandardCharsets.UTF_8);
        Thread reader = new Thread(() -> lines.lines().forEach(seen::add), "served-bench-lines");
        reader.setDaemon(true);
        reader.start();
        await(lockstep ? "ready" : "line off");
    }

    /** The command that starts this program's Java with this test's class path. */
    static List<String> java() {
        return List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"));
    }

    private PtyPair cable(Path folder, String link) throws IOException, InterruptedException {
        PtyPair cable = PtyPair.plug(Files.createDirectories(folder.resolve("pty-" + link)));
        cables.put(link, cable);
        return cable;
    }

    /** The controller's end of a cable. */
    String port(String link) {
        PtyPair cable = cables.get(link);
        if (cable == null) {
            throw new IllegalArgumentException("no cable " + link);
        }
        return cable.near().toString();
    }

    /** The shipped bench's rig file, with real ports in place of memory and without the simulation. */
    String rigFile(String builtIn) {
        String text = builtIn;
        for (String link : LINKS) {
            text = text.replace(
                    link + " = { kind = \"memory\" }",
                    link + " = { kind = \"serial\", port = \"" + port(link) + "\", baud = 115_200 }");
        }
        return text.substring(0, text.indexOf("[simulation]"));
    }

    /** Waits until the onlooker at the bench has seen something. */
    String await(String regex) throws InterruptedException {
        Pattern pattern = Pattern.compile(regex);
        List<String> others = new ArrayList<>();
        String line = seen.poll(60, TimeUnit.SECONDS);
        while (line != null && !pattern.matcher(line).find()) {
            others.add(line);
            line = seen.poll(60, TimeUnit.SECONDS);
        }
        if (line == null) {
            throw new AssertionError("never seen: " + regex + "; seen: " + others);
        }
        return line;
    }

    @Override
    public void close() {
        server.destroy();
        try {
            if (!server.waitFor(10, TimeUnit.SECONDS)) {
                server.destroyForcibly().waitFor();
            }
            for (PtyPair cable : cables.values()) {
                cable.pull();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

package railproof;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.extension.AfterAllCallback;
import org.junit.jupiter.api.extension.BeforeAllCallback;
import org.junit.jupiter.api.extension.ExtensionContext;

/**
 * On every test class: what it started has ended and what it opened is closed when its last test is over. A class fails
 * that leaves a thread of this program, any thread that keeps a process alive, a serial port, a socket or a file in a
 * temporary folder. Registered in {@code META-INF/services}.
 */
public final class LeakWatch implements BeforeAllCallback, AfterAllCallback {
    private static final ExtensionContext.Namespace SPACE = ExtensionContext.Namespace.create(LeakWatch.class);
    /** Threads end a little after they are told to; how long is waited for them, ms. */
    private static final long PATIENCE_MS = 3000;

    private static final Path DESCRIPTORS = Path.of("/proc/self/fd");
    private static final Path UNIX_SOCKETS = Path.of("/proc/net/unix");
    private static final int INODE_COLUMN = 6;
    private static final Pattern OURS =
            Pattern.compile("rig-control|rig-watch|record-writer|keyboard|burn-in .*|link-.*|exit-.*|bench-server.*");
    /** The test runner's and the JDK's own, which live as long as the process. */
    private static final Pattern RUNNER = Pattern.compile(
            "main|surefire.*|ping-.*|junit.*|process reaper.*|ForkJoinPool.commonPool.*|Common-Cleaner|.*Attach.*|JavaFX Application Thread");

    /** A window toolkit lives as long as the process once a class has started it, with its sockets to the display. */
    private static final String TOOLKIT = "JavaFX Application Thread";

    /** Ports, sockets, and files in the places tests work in. */
    private static final Pattern WATCHED = Pattern.compile("/dev/(pts/\\d|tty|shm/).*|socket:.*|"
            + Pattern.quote(System.getProperty("java.io.tmpdir", "/tmp")) + "/.*");

    private static final Pattern LIBRARY =
            Pattern.compile(".*\\.(so|jar)( \\(deleted\\))?|.*/hsperfdata.*|.*surefire.*");

    static {
        // the JDK keeps a descriptor for itself from the first channel and the first socket on
        try (java.nio.channels.ServerSocketChannel channel = java.nio.channels.ServerSocketChannel.open();
                java.net.ServerSocket socket = new java.net.ServerSocket();
                java.nio.channels.FileChannel file = java.nio.channels.FileChannel.open(Path.of("pom.xml"))) {
            channel.bind(null);
            socket.setReuseAddress(true);
            file.size();
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    private record Before(Set<Thread> threads, Map<String, String> open) {}

    @Override
    public void beforeAll(ExtensionContext context) {
        context.getStore(SPACE).put(Before.class, new Before(threads(), open()));
    }

    @Override
    public void afterAll(ExtensionContext context) throws InterruptedException {
        Before before = context.getStore(SPACE).get(Before.class, Before.class);
        if (before == null) {
            return;
        }
        long endNs = System.nanoTime() + PATIENCE_MS * 1_000_000L;
        Set<String> left = left(before);
        while (!left.isEmpty() && System.nanoTime() < endNs) {
            Thread.sleep(20);
            left = left(before);
        }
        if (!left.isEmpty()) {
            throw new AssertionError("left behind by " + context.getDisplayName() + ": " + String.join("; ", left));
        }
    }

    private static Set<String> left(Before before) {
        Set<String> left = new TreeSet<>();
        for (Thread thread : threads()) {
            boolean counts = OURS.matcher(thread.getName()).matches() || !thread.isDaemon();
            if (counts
                    && !before.threads.contains(thread)
                    && !RUNNER.matcher(thread.getName()).matches()) {
                left.add("thread \"" + thread.getName() + "\"");
            }
        }
        boolean toolkitStarted = threads().stream()
                        .anyMatch(thread -> thread.getName().equals(TOOLKIT))
                && before.threads.stream().noneMatch(thread -> thread.getName().equals(TOOLKIT));
        open().forEach((descriptor, target) -> {
            boolean toolkits = toolkitStarted && target.startsWith("socket:");
            if (!toolkits && !target.equals(before.open.get(descriptor))) {
                left.add("open " + target);
            }
        });
        return left;
    }

    private static Set<Thread> threads() {
        return new HashSet<>(Thread.getAllStackTraces().keySet());
    }

    /** What is open of what is watched, by descriptor; nothing where the system does not say. */
    private static Map<String, String> open() {
        Map<String, String> open = new HashMap<>();
        if (!Files.isDirectory(DESCRIPTORS)) {
            return open;
        }
        try (Stream<Path> all = Files.list(DESCRIPTORS)) {
            Set<String> lookersOn = lookersOn();
            for (Path descriptor : List.copyOf(all.toList())) {
                target(descriptor)
                        .filter(target -> WATCHED.matcher(target).matches())
                        .filter(target -> !LIBRARY.matcher(target).matches())
                        .filter(target -> !lookersOn.contains(target))
                        .ifPresent(target -> open.put(descriptor.toString(), target));
            }
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
        return open;
    }

    /**
     * Sockets on which this machine listens for the tools that look into a running program (a list of its threads): it
     * opens one when somebody asks, and keeps it.
     */
    private static Set<String> lookersOn() throws IOException {
        return Files.readAllLines(UNIX_SOCKETS).stream()
                .filter(line -> line.contains("/.java_pid"))
                .map(line -> "socket:[" + line.trim().split("\\s+", -1)[INODE_COLUMN] + "]")
                .collect(Collectors.toSet());
    }

    private static java.util.Optional<String> target(Path descriptor) {
        try {
            return java.util.Optional.of(Files.readSymbolicLink(descriptor).toString());
        } catch (IOException e) {
            return java.util.Optional.empty(); // closed meanwhile
        }
    }
}

package railproof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.platform.engine.discovery.DiscoverySelectors.selectClass;

import java.io.FileInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;
import org.junit.platform.launcher.LauncherDiscoveryRequest;
import org.junit.platform.launcher.core.LauncherDiscoveryRequestBuilder;
import org.junit.platform.launcher.core.LauncherFactory;
import org.junit.platform.launcher.listeners.SummaryGeneratingListener;

/** The watch itself: it finds what is left behind, and nothing else. */
class LeakWatchTest {
    private static final List<FileInputStream> LEFT = new ArrayList<>();
    private static final CountDownLatch END = new CountDownLatch(1);

    /** Leaves a thread of this program and an open file. Not found by its name, only run from here. */
    static final class Leaking {
        @Test
        void leaves() throws IOException {
            Thread thread = new Thread(LeakWatchTest::waitForEnd, "rig-watch");
            thread.setDaemon(true);
            thread.start();
            Path file = Files.createTempFile("railproof-leak", ".txt");
            LEFT.add(new FileInputStream(file.toFile()));
        }
    }

    /** Leaves nothing. */
    static final class Clean {
        @Test
        void leaves() throws Exception {
            Thread thread = new Thread(() -> {}, "rig-watch");
            thread.start();
            Path file = Files.createTempFile("railproof-leak", ".txt");
            try (FileInputStream in = new FileInputStream(file.toFile())) {
                assertEquals(-1, in.read());
            }
            Files.delete(file);
        }
    }

    private static void waitForEnd() {
        try {
            END.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static List<String> failuresOf(Class<?> test) {
        LauncherDiscoveryRequest request = LauncherDiscoveryRequestBuilder.request()
                .selectors(selectClass(test))
                .configurationParameter("junit.jupiter.extensions.autodetection.enabled", "true")
                .build();
        SummaryGeneratingListener listener = new SummaryGeneratingListener();
        LauncherFactory.create().execute(request, listener);
        return listener.getSummary().getFailures().stream()
                .map(failure -> String.valueOf(failure.getException().getMessage()))
                .toList();
    }

    @Test
    void whatIsLeftBehindFailsTheClassByName() throws IOException {
        try {
            List<String> failures = failuresOf(Leaking.class);

            assertEquals(1, failures.size(), failures::toString);
            assertTrue(failures.get(0).contains("thread \"rig-watch\""), failures::toString);
            assertTrue(failures.get(0).contains("railproof-leak"), failures::toString);
        } finally {
            END.countDown();
            for (FileInputStream in : LEFT) {
                in.close();
            }
        }
    }

    @Test
    void aClassThatTidiesUpPasses() {
        assertEquals(List.of(), failuresOf(Clean.class));
    }
}

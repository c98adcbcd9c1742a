package railproof.wire.serial;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;

/** Two pseudo-terminals joined back to back: a cable that can be pulled. */
public final class PtyPair {
    final Path near;
    final Path far;
    private final Process socat;

    private PtyPair(Path near, Path far, Process socat) {
        this.near = near;
        this.far = far;
        this.socat = socat;
    }

    /** One end. */
    public Path near() {
        return near;
    }

    /** The other. */
    public Path far() {
        return far;
    }

    /** Lays a cable with the ends {@code near} and {@code far} in a folder. */
    public static PtyPair plug(Path folder) throws IOException, InterruptedException {
        Path near = folder.resolve("near");
        Path far = folder.resolve("far");
        Files.deleteIfExists(near);
        Files.deleteIfExists(far);
        Process socat = new ProcessBuilder("socat", "pty,raw,echo=0,link=" + near, "pty,raw,echo=0,link=" + far)
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start();
        for (int tries = 0; tries < 200 && !(Files.exists(near) && Files.exists(far)); tries++) {
            TimeUnit.MILLISECONDS.sleep(10);
        }
        if (!Files.exists(far)) {
            throw new IOException("socat made no pseudo-terminals in " + folder);
        }
        return new PtyPair(near, far, socat);
    }

    /** The process that is the cable. */
    public long pid() {
        return socat.pid();
    }

    /** Pulls the cable. */
    public void pull() throws IOException, InterruptedException {
        socat.destroyForcibly().waitFor();
        Files.deleteIfExists(near); // killed like this, it leaves its links behind
        Files.deleteIfExists(far);
    }
}

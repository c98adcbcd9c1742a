package railproof.app;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import railproof.base.Clock;
import railproof.base.SystemClock;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;
import railproof.sim.PacedClock;
import railproof.sim.SimulatedBench;
import railproof.wire.Peer;

/** Simulated instruments behind network ports of this machine, one each, in real time. */
final class NetworkBench implements AutoCloseable {
    private static final int LOOK_MS = 5;

    private final SimulatedBench bench;
    private final Clock clock = new PacedClock(SystemClock.INSTANCE, 1);
    private final Map<String, ServerSocket> doors = new TreeMap<>();
    private final List<Thread> threads = new ArrayList<>();
    private volatile boolean stopped;

    /** A bench whose calibrator is on one channel. */
    NetworkBench(RigFile rig, String channel) throws Exception {
        bench = new SimulationSetup(rig, BuiltInFiles.profile("counter-5v").profile(), "")
                .build(rig.config().board().channels().stream()
                        .filter(c -> c.name().equals(channel))
                        .toList());
        for (String link : ServedBench.LINKS) {
            ServerSocket door = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
            door.setSoTimeout(LOOK_MS);
            doors.put(link, door);
            Thread thread = new Thread(() -> serve(door, peer(link)), "bench-" + link);
            threads.add(thread);
            thread.start();
        }
    }

    private Peer peer(String link) {
        if (link.equals("board")) {
            return bench.board();
        }
        return link.equals("line-source") ? bench.lineSource() : bench.load(link);
    }

    /** The person turns the calibrator. */
    void turnSource(double level) {
        bench.calibrator(level);
    }

    /** The shipped bench's rig file, with network ports in place of memory and without the simulation. */
    String rigFile(String builtIn) {
        String text = builtIn;
        for (Map.Entry<String, ServerSocket> door : doors.entrySet()) {
            text = text.replace(
                    door.getKey() + " = { kind = \"memory\" }",
                    door.getKey() + " = { kind = \"tcp\", host = \"localhost\", port = "
                            + door.getValue().getLocalPort() + " }");
        }
        return text.substring(0, text.indexOf("[simulation]"));
    }

    private void serve(ServerSocket door, Peer peer) {
        while (!stopped) {
            try (Socket caller = door.accept()) {
                caller.setTcpNoDelay(true);
                caller.setSoTimeout(LOOK_MS);
                talk(caller, peer);
            } catch (SocketTimeoutException e) {
                // nobody called: look again
            } catch (IOException e) {
                // hung up: wait for the next one
            }
        }
    }

    private void talk(Socket caller, Peer peer) throws IOException {
        InputStream in = caller.getInputStream();
        OutputStream out = caller.getOutputStream();
        Consumer<byte[]> reply = bytes -> {
            try {
                out.write(bytes);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        };
        byte[] buffer = new byte[8192];
        int count = 0;
        while (count >= 0 && !stopped) {
            try {
                count = in.read(buffer);
            } catch (SocketTimeoutException e) {
                count = 0;
            }
            try {
                peer.advanceTo(clock.nowNs(), reply);
                if (count > 0) {
                    peer.receive(Arrays.copyOf(buffer, count), reply);
                }
            } catch (UncheckedIOException e) {
                throw new IOException("hung up", e);
            }
        }
    }

    @Override
    public void close() throws IOException {
        stopped = true;
        try {
            for (Thread thread : threads) {
                thread.join();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        for (ServerSocket door : doors.values()) {
            door.close();
        }
    }
}

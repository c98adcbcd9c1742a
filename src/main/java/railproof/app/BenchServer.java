package railproof.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import railproof.base.BadFileException;
import railproof.base.Clock;
import railproof.base.SystemClock;
import railproof.rig.file.RigConfig;
import railproof.sim.LockstepServer;
import railproof.sim.PacedClock;
import railproof.sim.SimulatedBench;
import railproof.sim.device.PeerPump;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.Peer;
import railproof.wire.serial.SerialLink;
import railproof.wire.serial.SerialSettings;

/**
 * Serves a simulated bench on serial ports of this machine, for a controller in another process or on another machine.
 *
 * <p>Thread: {@link #serve} blocks its caller; each port has a thread of its own ({@code serve-NAME}).
 */
public final class BenchServer {
    private static final long LOOK_NS = 2_000_000L;

    private final SimulatedBench bench;
    private final RigConfig config;
    private final Map<String, String> ports;
    private final AtomicBoolean stopped = new AtomicBoolean();
    private final AtomicReference<LinkException> trouble = new AtomicReference<>();

    /**
     * A server.
     *
     * @param setup what is simulated
     * @param config the rig file's content
     * @param ports port path by the name of the rig file's link
     */
    public BenchServer(SimulationSetup setup, RigConfig config, Map<String, String> ports) throws BadFileException {
        this.bench = setup.build();
        this.config = config;
        this.ports = Map.copyOf(ports);
    }

    /** Ends {@link #serve} soon. */
    public void stop() {
        stopped.set(true);
    }

    /**
     * Serves in real time until stopped.
     *
     * @param onlooker told in words whenever load current, load inputs or line change state
     * @throws LinkException if a port cannot be opened or is gone
     */
    public void serve(Consumer<String> onlooker) throws LinkException, InterruptedException {
        Clock clock = new PacedClock(SystemClock.INSTANCE, 1);
        List<Thread> threads = new ArrayList<>();
        List<Link> links = new ArrayList<>();
        try {
            for (String name : ports.keySet()) {
                Link link = open(name, clock);
                links.add(link);
                threads.add(pump(link, Benches.device(bench, config, name)));
            }
            watch(clock, onlooker);
        } finally {
            stop();
            for (Thread thread : threads) {
                thread.join();
            }
            links.forEach(Link::close);
        }
        if (trouble.get() != null) {
            throw trouble.get();
        }
    }

    private void watch(Clock clock, Consumer<String> onlooker) throws InterruptedException {
        SimulatedBench.Sight last = bench.sight();
        onlooker.accept(words(last));
        while (!stopped.get()) {
            bench.bringTo(clock.nowNs());
            SimulatedBench.Sight now = bench.sight();
            if (now.anyLoadInputOn() != last.anyLoadInputOn()
                    || now.lineLive() != last.lineLive()
                    || now.loadCurrentA() > 0 != last.loadCurrentA() > 0) {
                onlooker.accept(words(now));
                last = now;
            }
            clock.sleepNs(LOOK_NS);
        }
    }

    private static String words(SimulatedBench.Sight sight) {
        return String.format(
                Locale.ROOT,
                "line %s, load input %s, load current %.4f A",
                sight.lineLive() ? "on" : "off",
                sight.anyLoadInputOn() ? "on" : "off",
                sight.loadCurrentA());
    }

    private Thread pump(Link link, Peer peer) {
        Thread thread = new Thread(
                () -> {
                    try {
                        PeerPump.run(link, peer, stopped::get);
                    } catch (LinkException e) {
                        trouble.compareAndSet(null, e);
                        stop();
                    } catch (InterruptedException e) {
                        Thread.currentThread().interrupt();
                    }
                },
                "serve-" + link.name());
        thread.start();
        return thread;
    }

    /**
     * Serves in lockstep until stopped: time moves only when the other side says so on {@code timePort}.
     *
     * @param onlooker told when all ports are open; what is sent to a port before that is lost
     * @throws LinkException if a port cannot be opened or is gone
     */
    public void serveLockstep(String timePort, Consumer<String> onlooker) throws LinkException, InterruptedException {
        List<Link> links = new ArrayList<>();
        try {
            Link timeLine = SerialLink.open("time", SerialSettings.board(timePort), SystemClock.INSTANCE);
            links.add(timeLine);
            LockstepServer server = new LockstepServer(bench, timeLine);
            for (String name : ports.keySet()) {
                Link link = open(name, SystemClock.INSTANCE);
                links.add(link);
                server.attach(link, Benches.device(bench, config, name));
            }
            onlooker.accept("ready, in lockstep");
            server.serve(stopped::get);
        } finally {
            links.forEach(Link::close);
        }
    }

    private Link open(String name, Clock clock) throws LinkException {
        String path = ports.get(name);
        if (path == null) {
            throw new LinkException(name, "no port is given for it");
        }
        return SerialLink.open(name, SerialSettings.board(path), clock);
    }
}

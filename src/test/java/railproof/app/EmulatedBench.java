package railproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import railproof.base.Clock;
import railproof.base.SystemClock;
import railproof.instrument.EmulatedBoard;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;
import railproof.sim.LoadedUnit;
import railproof.sim.device.DarkInputs;
import railproof.sim.device.PeerPump;
import railproof.sim.device.WindowBench;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;
import railproof.wire.Peer;
import railproof.wire.serial.PtyPair;
import railproof.wire.serial.SerialLink;
import railproof.wire.serial.SerialSettings;

/**
 * The shipped simulated bench with the real firmware in place of its simulated board: the firmware runs on an emulated
 * processor, the unit lies behind its converter, and loads and line source act on the same unit; every instrument at a
 * serial port of its own.
 *
 * <p>The board's clock leads, and runs about with the wall clock, because a host has to keep a heartbeat against it. It
 * stands still while the computer has no time for the emulator. The unit is brought to the board's time before any load
 * or line source is spoken to, so that all of them live in one present; and what takes this process longer than it
 * should only makes a capture come later, its samples are those of their instants.
 */
final class EmulatedBench implements AutoCloseable {
    private static final List<String> SCPI_LINKS = List.of("line-source", "load-1", "load-2", "load-3", "load-4");
    private static final String SHIPPED = "simulated-bench";

    final EmulatedBoard board;
    private final WindowBench window;
    private final LoadedUnit unit;
    private final Map<String, PtyPair> cables = new TreeMap<>();
    private final List<Link> links = new ArrayList<>();
    private final AtomicBoolean stopped = new AtomicBoolean();
    private final Path folder;

    /** With a unit that has the profile's name, and a fault in the simulator's words, empty for none. */
    EmulatedBench(Path folder, String profile, String fault) throws Exception {
        this.folder = folder;
        SimulationSetup.Parts parts = new SimulationSetup(
                        BuiltInFiles.rig(SHIPPED), BuiltInFiles.profile(profile).profile(), fault)
                .parts(List.of());
        unit = new LoadedUnit(parts.plant(), parts.plan(), parts.handLineHz());
        board = EmulatedBoard.cortexAtItsOwnPace(folder, new DarkInputs());
        window = board.window(
                parts.plan().adc(),
                unit.terminals(),
                unit.contacts(),
                parts.plan().seed());
        for (String link : SCPI_LINKS) {
            PtyPair cable = PtyPair.plug(Files.createDirectories(folder.resolve("pty-" + link)));
            cables.put(link, cable);
            serve(link, cable);
        }
    }

    private void serve(String name, PtyPair cable) throws LinkException {
        Link link = SerialLink.open(name, SerialSettings.board(cable.far().toString()), SystemClock.INSTANCE);
        links.add(link);
        Thread thread = new Thread(
                () -> {
                    try {
                        PeerPump.run(link, peer(name), stopped::get);
                    } catch (LinkDownException e) {
                        stopped.set(true); // the bench is being taken down
                    } catch (LinkException e) {
                        throw new IllegalStateException(e);
                    } catch (InterruptedException e) {
                        Thread.currentThread().interrupt();
                    }
                },
                "serve-" + name);
        thread.setDaemon(true);
        thread.start();
    }

    private Peer peer(String name) {
        return new Peer() {
            @Override
            public void receive(byte[] bytes, Consumer<byte[]> reply) {
                window.atPresent(nowNs -> {
                    if (name.startsWith("load")) {
                        unit.tellLoad(name, bytes, reply);
                    } else {
                        unit.tellLineSource(bytes, reply);
                    }
                    unit.terminals().advanceTo(nowNs * 1e-9);
                });
            }

            @Override
            public void advanceTo(long nowNs, Consumer<byte[]> reply) {
                // the board's clock is the one that counts
            }
        };
    }

    /** The shipped rig file with ports in place of memory, for this bench. */
    Path rigFile() throws IOException {
        String text = BuiltInFiles.rig(SHIPPED).source().text();
        text = inPlace(text, "board", board.port());
        for (Map.Entry<String, PtyPair> cable : cables.entrySet()) {
            text = inPlace(text, cable.getKey(), cable.getValue().near());
        }
        text = text.replace("heartbeat_timeout_ms = 500", "heartbeat_timeout_ms = 2000");
        return Files.writeString(folder.resolve("rig.toml"), text.substring(0, text.indexOf("[simulation]")));
    }

    private static String inPlace(String text, String link, Path port) {
        return text.replace(
                link + " = { kind = \"memory\" }",
                link + " = { kind = \"serial\", port = \"" + port + "\", baud = 115_200 }");
    }

    RigFile rig() throws Exception {
        return RigFile.read(rigFile());
    }

    /**
     * The board's clock, for a controller in this process. From now on it waits for the controller, for the unit and for
     * the lines: how long anything takes on a busy computer is not time that passes on this bench.
     */
    Clock clock() {
        window.pace(board.bench());
        return new Clock() {
            @Override
            public long nowNs() {
                return window.present();
            }

            @Override
            public Instant wallTime() {
                return SystemClock.INSTANCE.wallTime();
            }

            @Override
            public void sleepNs(long durationNs) throws InterruptedException {
                long endNs = nowNs() + durationNs;
                while (nowNs() < endNs) {
                    TimeUnit.MICROSECONDS.sleep(200);
                }
            }
        };
    }

    /** The device's clock, ticks. */
    long ticks() {
        long[] ticks = new long[1];
        window.atPresent(nowNs -> ticks[0] = nowNs / 1000);
        return ticks[0];
    }

    /** When the outputs last went off altogether, by the device's clock; 0 if they never did. */
    long offTicks() {
        return window.offTicks();
    }

    /** Scans that the converter has given. */
    long scansGiven() {
        return window.scansGiven();
    }

    /** Whether the input of any load is on, seen at the load. */
    boolean anyLoadInputOn() {
        boolean[] on = new boolean[1];
        window.atPresent(nowNs -> on[0] = unit.anyLoadInputOn());
        return on[0];
    }

    @Override
    public void close() {
        stopped.set(true);
        links.forEach(Link::close);
        try {
            for (PtyPair cable : cables.values()) {
                cable.pull();
            }
            window.close();
            board.close();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

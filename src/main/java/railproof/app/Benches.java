package railproof.app;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;
import railproof.base.BadFileException;
import railproof.base.Clock;
import railproof.base.Problem;
import railproof.base.SystemClock;
import railproof.rig.file.LinkConfig;
import railproof.rig.file.RigConfig;
import railproof.sim.BenchClock;
import railproof.sim.PacedClock;
import railproof.sim.SimulatedBench;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.MemoryLink;
import railproof.wire.Peer;
import railproof.wire.SocketLink;
import railproof.wire.serial.SerialLink;
import railproof.wire.serial.SerialSettings;

/** Opens benches: real ones through their ports, simulated ones in this process. */
public final class Benches {
    private Benches() {}

    /**
     * Where the instruments of a run are. A rig file with a simulation gets a simulated bench: in virtual time, or
     * paced by the wall clock if the request says so.
     *
     * @throws BadFileException if the simulation cannot be built as described
     */
    public static BenchAccess open(RunRequest request) throws BadFileException {
        return open(request, false);
    }

    /** The same for a burn-in: simulated units are leapt through hours in which nothing happens to them. */
    static BenchAccess openForHours(RunRequest request) throws BadFileException {
        return open(request, true);
    }

    private static BenchAccess open(RunRequest request, boolean fastForward) throws BadFileException {
        RigConfig config = request.rig().config();
        if (config.simulation().isEmpty()) {
            if (request.simulatedFault().isPresent() || request.realTime()) {
                throw new BadFileException(List.of(new Problem(
                        request.rig().source().name(),
                        0,
                        0,
                        "",
                        "--sim-fault and --real-time are for a simulated bench; this one is real")));
            }
            return new BenchAccess(SystemClock.INSTANCE, ports(config), false, "");
        }
        SimulationSetup setup = new SimulationSetup(
                request.rig(),
                request.profile().profile(),
                request.simulatedFault().orElse(""));
        SimulatedBench bench = (fastForward ? setup.fastForward() : setup).build();
        double paceRatio = request.realTime() ? 1 : config.simulation().get().paceRatio();
        if (paceRatio > 0) {
            PacedClock clock = new PacedClock(SystemClock.INSTANCE, paceRatio);
            return new BenchAccess(clock, memoryLinks(bench, config, clock::paced), true, setup.words());
        }
        Clock clock = new BenchClock(bench, SystemClock.INSTANCE.wallTime());
        return new BenchAccess(clock, memoryLinks(bench, config), true, setup.words());
    }

    /** Links into a simulated bench, by the rig file's names. */
    public static LinkOpener memoryLinks(SimulatedBench bench, RigConfig config) {
        return memoryLinks(bench, config, device -> device);
    }

    private static LinkOpener memoryLinks(SimulatedBench bench, RigConfig config, UnaryOperator<Peer> pacing) {
        return (link, clock) -> new MemoryLink(link.name(), clock, pacing.apply(device(bench, config, link.name())));
    }

    /** The simulated instrument behind the rig file's link of that name. */
    static Peer device(SimulatedBench bench, RigConfig config, String link) {
        if (link.equals(config.board().link())) {
            return bench.board();
        }
        return config.loads().stream()
                .filter(load -> load.link().equals(link))
                .findFirst()
                .map(load -> bench.load(load.name()))
                .orElseGet(bench::lineSource);
    }

    /** Real ports, as a rig file describes them. */
    public static LinkOpener ports(RigConfig config) {
        return (link, clock) ->
                openPort(link, clock, !link.name().equals(config.board().link()));
    }

    private static Link openPort(LinkConfig link, Clock clock, boolean raiseDtrRts) throws LinkException {
        if (link instanceof LinkConfig.Serial serial) {
            return SerialLink.open(link.name(), settings(serial, raiseDtrRts), clock);
        }
        if (link instanceof LinkConfig.Tcp tcp) {
            return SocketLink.tcp(link.name(), clock, tcp.host(), tcp.port());
        }
        if (link instanceof LinkConfig.Unix unix) {
            return SocketLink.unix(link.name(), clock, Path.of(unix.path()));
        }
        throw new LinkException(link.name(), "a memory link leads nowhere without [simulation] in the rig file");
    }

    /** DTR and RTS stay low for binary links: raising them resets boards with auto-reset wiring. */
    private static SerialSettings settings(LinkConfig.Serial serial, boolean raiseDtrRts) {
        LinkConfig.SerialFormat format = serial.format();
        String port = serial.portPath()
                .orElseGet(() -> serial.usb().map(Benches::usbAddress).orElse(""));
        return new SerialSettings(
                port,
                format.baud(),
                format.dataBits(),
                SerialSettings.Parity.valueOf(format.parity().name()),
                format.stopBits(),
                SerialSettings.Flow.valueOf(format.flow().name()),
                raiseDtrRts);
    }

    private static String usbAddress(LinkConfig.UsbId usb) {
        return String.format(Locale.ROOT, "usb:%04x:%04x", usb.vendorId(), usb.productId())
                + usb.serialNumber().map(serial -> ":" + serial).orElse("");
    }
}

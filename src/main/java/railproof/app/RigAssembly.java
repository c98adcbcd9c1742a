package railproof.app;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.IntSupplier;
import railproof.base.Clock;
import railproof.instrument.DaqBoard;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.FramedDaqBoard;
import railproof.instrument.LineDialect;
import railproof.instrument.LineSource;
import railproof.instrument.ScpiElectronicLoad;
import railproof.instrument.ScpiLineSource;
import railproof.profile.Profile;
import railproof.rig.Accuracy;
import railproof.rig.Channel;
import railproof.rig.GuardedLink;
import railproof.rig.Interlock;
import railproof.rig.RailPosition;
import railproof.rig.Rig;
import railproof.rig.RigGuard;
import railproof.rig.StopSignal;
import railproof.rig.file.LineConfig;
import railproof.rig.file.LinkConfig;
import railproof.rig.file.LoadConfig;
import railproof.rig.file.Placement;
import railproof.rig.file.PositionConfig;
import railproof.rig.file.RigConfig;
import railproof.run.Quantity;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.TracedLink;
import railproof.wire.WireTrace;

/** Puts a rig together out of its file: links, drivers, and how the unit's rails are wired to it. */
final class RigAssembly {
    /** The board's name among the instruments. */
    static final String BOARD = "board";

    private static final Duration OPERATOR_PATIENCE = Duration.ofMinutes(5);

    private final RigConfig config;
    private final Clock clock;
    private final LinkOpener opener;
    private final WireTrace trace;
    private final RigCalibration calibration;
    private final StopSignal stop = new StopSignal();
    private final RigGuard guard;
    private final Map<String, Link> links = new LinkedHashMap<>();

    RigAssembly(RigConfig config, BenchAccess bench, WireTrace trace, RigCalibration calibration) {
        this.config = config;
        this.calibration = calibration;
        this.clock = bench.clock();
        this.opener = bench.links();
        this.trace = trace;
        this.guard = new RigGuard(bench.clock());
    }

    StopSignal stop() {
        return stop;
    }

    /**
     * The drivers of all instruments; nothing is said to any of them yet.
     *
     * @param board the measuring board
     * @param loads by their names in the rig file
     * @param lineSource the programmable source, if there is one
     */
    record Instruments(DaqBoard board, Map<String, ElectronicLoad> loads, Optional<LineSource> lineSource) {}

    /**
     * Opens every link and builds the drivers.
     *
     * @throws LinkException if a link cannot be opened; those already open are closed again
     */
    Instruments open() throws LinkException {
        try {
            for (LinkConfig link : config.links()) {
                links.put(link.name(), new GuardedLink(new TracedLink(opener.open(link, clock), trace), stop, guard));
            }
        } catch (LinkException e) {
            links.values().forEach(Link::close);
            throw e;
        }
        DaqBoard board = new FramedDaqBoard(
                BOARD,
                link(config.board().link()),
                config.board().serialNumber().orElse(""),
                nonces());
        Map<String, ElectronicLoad> loads = new LinkedHashMap<>();
        for (LoadConfig load : config.loads()) {
            loads.put(load.name(), new ScpiElectronicLoad(load.name(), link(load.link()), load.dialect()));
        }
        return new Instruments(board, loads, lineSource());
    }

    /**
     * Opens the rig for one type of unit.
     *
     * @throws LinkException if a link cannot be opened; those already open are closed again
     */
    Rig build(Profile profile) throws LinkException {
        Instruments instruments = open();
        return new Rig(
                clock,
                instruments.board(),
                positions(profile, instruments.loads()),
                instruments.lineSource(),
                lineChannel(),
                wiring(),
                List.copyOf(links.values()),
                stop,
                guard);
    }

    /** Numbers that differ from arming to arming; from the clock, so that a run on virtual time can be repeated. */
    private IntSupplier nonces() {
        return new Random(clock.nowNs())::nextInt;
    }

    private Link link(String name) {
        Link link = links.get(name);
        if (link == null) {
            throw new IllegalStateException("the rig file's cross checks let an unknown link through: " + name);
        }
        return link;
    }

    private List<RailPosition> positions(Profile profile, Map<String, ElectronicLoad> loads) {
        List<RailPosition> positions = new ArrayList<>();
        for (Placement.Seat seat : Placement.of(config, profile).seats()) {
            PositionConfig position = seat.position();
            LoadConfig load = config.load(position.load());
            Map<Quantity, Channel> channels = new EnumMap<>(Quantity.class);
            position.channels().forEach((quantity, channel) -> channels.put(quantity, calibration.channel(channel)));
            ElectronicLoad driver = loads.get(load.name());
            if (driver == null) {
                throw new IllegalStateException("no driver for load " + load.name());
            }
            positions.add(new RailPosition(
                    seat.rail().name(),
                    driver,
                    position.loadRelay().map(bit -> 1 << bit).orElse(0),
                    channels,
                    new Accuracy(
                            load.currentGainURatio(),
                            load.currentOffsetUA(),
                            load.currentResolutionA() / Math.sqrt(12),
                            0),
                    load.dialect().settle(),
                    load.minOperatingV()));
        }
        return positions;
    }

    private Channel lineChannel() {
        return config.line()
                .channel()
                .map(calibration::channel)
                .orElseThrow(() -> new IllegalStateException("a rig without a line channel cannot run"));
    }

    private Optional<LineSource> lineSource() {
        if (config.line().feed() instanceof LineConfig.Programmable feed) {
            return Optional.of(
                    new ScpiLineSource("line", link(feed.link()), new LineDialect("rig file", feed.scpi(), Map.of())));
        }
        return Optional.empty();
    }

    private Rig.Wiring wiring() {
        List<Interlock> interlocks = config.interlocks().stream()
                .map(interlock -> new Interlock(interlock.name(), interlock.input(), interlock.emergencyStop()))
                .toList();
        LineConfig line = config.line();
        double bandRatio = line.feed() instanceof LineConfig.Operator hand ? hand.bandRatio() : 0;
        return new Rig.Wiring(
                config.board().lineRelay().map(bit -> 1 << bit).orElse(0),
                true,
                config.board().heartbeatTimeout(),
                interlocks,
                line.feed() instanceof LineConfig.Operator,
                bandRatio,
                line.settle(),
                OPERATOR_PATIENCE,
                config.safety().leadResistanceOhm());
    }
}

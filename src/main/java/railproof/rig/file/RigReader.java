package railproof.rig.file;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import railproof.base.Unit;
import railproof.instrument.LoadDialect;
import railproof.run.Quantity;
import railproof.toml.TomlSection;

/** Reads the whole tree of a rig file. */
final class RigReader {
    private static final int MAX_LOADS = 16;
    private static final int MAX_RELAY = BoardConfig.MAX_BITS - 1;

    private static final Pattern PASSWORD = Pattern.compile("(?i)password=|//[^/?]*:[^/?]*@");

    /** The quantities a position can have a channel for, by their key. */
    private static final Map<String, Quantity> PROBES = probes();

    private final TomlSection root;
    private final LinkReader links;
    private final Map<String, LoadDialect> dialects;
    private final Map<String, ChannelConfig> channels;
    private final Map<Integer, String> relayUsers = new HashMap<>();
    private final Map<String, String> channelUsers = new HashMap<>();

    RigReader(TomlSection root) {
        this.root = root;
        this.links = new LinkReader(root);
        this.dialects = DialectReader.dialects(root);
        this.channels = new ChannelReader(root).channels();
    }

    RigConfig read() {
        String name = root.text("name");
        String title = root.text("title");
        BoardConfig board = root.table("board", true).map(this::board).orElse(noBoard());
        Map<String, LoadConfig> loads = new LinkedHashMap<>();
        root.namedTables("loads", true, MAX_LOADS).forEach((load, section) -> loads.put(load, load(load, section)));
        List<PositionConfig> positions = positions(loads);
        LineConfig line = root.table("line", true)
                .map(section -> new LineReader(links, dialects, this::channel).line(section))
                .orElse(noLine());
        List<InterlockConfig> interlocks = interlocks();
        SafetyConfig safety = root.table("safety", true).map(RigReader::safety).orElse(new SafetyConfig(1, 1, 0));
        Optional<TomlSection> simulationSection = root.table("simulation", false);
        Optional<SimulationConfig> simulation = simulationSection.map(RigReader::simulation);
        requireSimulationFits(simulationSection);
        Optional<String> calibration = root.optionalText("calibration_file");
        Optional<String> archive = root.optionalText("archive_url");
        archive.filter(url -> PASSWORD.matcher(url).find())
                .ifPresent(url -> root.problem(
                        "archive_url",
                        "must not hold a password: the rig file is kept with every run; say it in the environment"
                                + " (RAILPROOF_ARCHIVE_PASSWORD) or in the driver's password file"));
        links.requireAllUsed();
        return new RigConfig(
                name,
                title,
                List.copyOf(links.links().values()),
                board,
                List.copyOf(loads.values()),
                positions,
                line,
                interlocks,
                safety,
                simulation,
                calibration,
                archive);
    }

    private BoardConfig board(TomlSection section) {
        String link = links.claim(section, "the board");
        Optional<String> serial = section.optionalText("serial_number");
        Duration heartbeat = section.duration(
                "heartbeat_timeout_ms", Duration.ofMillis(200), Duration.ofSeconds(2), Duration.ofMillis(500));
        Optional<Integer> lineRelay = relay(section, "line_relay", "the line");
        return new BoardConfig(link, serial, heartbeat, lineRelay, List.copyOf(channels.values()));
    }

    private LoadConfig load(String name, TomlSection section) {
        String link = links.claim(section, "the load " + name);
        Optional<LoadDialect> dialect = section.reference("dialect", "dialect", dialects);
        if (dialect.isEmpty()) {
            section.missingReference("dialect", "dialect");
        }
        return new LoadConfig(
                name,
                link,
                dialect.orElse(LoadDialect.standard()),
                section.number("max_current_A", 0.001, 2000),
                section.number("max_voltage_V", 1, 2000),
                section.number("max_power_W", 0.1, 50_000),
                section.number("min_operating_V", 0, 100),
                section.number("current_resolution_A", 1e-7, 1),
                section.number("current_gain_u_pct", 0, 10) / 100,
                section.number("current_offset_u_A", 0, 10));
    }

    private List<PositionConfig> positions(Map<String, LoadConfig> loads) {
        List<PositionConfig> positions = new ArrayList<>();
        Set<String> names = new HashSet<>();
        for (TomlSection section : root.tables("positions", 1, MAX_LOADS)) {
            String name = section.text("name");
            if (section.good("name") && !names.add(name)) {
                section.problem("name", "another position is called \"" + name + "\" already");
            }
            Optional<LoadConfig> load = section.reference("load", "load", loads);
            if (load.isEmpty()) {
                section.missingReference("load", "load");
            }
            Map<Quantity, ChannelConfig> probes = new EnumMap<>(Quantity.class);
            PROBES.forEach((key, quantity) ->
                    channel(section, key, quantity.unit()).ifPresent(channel -> probes.put(quantity, channel)));
            if (!probes.containsKey(Quantity.OUTPUT)) {
                section.missingReference("output", "channel");
            }
            positions.add(new PositionConfig(
                    name,
                    load.map(LoadConfig::name).orElse("?"),
                    relay(section, "load_relay", "position \"" + name + "\""),
                    probes));
        }
        return positions;
    }

    /** Reads an optional key that names a channel of a unit, and claims the channel. */
    private Optional<ChannelConfig> channel(TomlSection section, String key, Unit unit) {
        Optional<ChannelConfig> channel = section.reference(key, "channel", channels);
        channel.ifPresent(found -> {
            if (found.range().unit() != unit && !found.range().equals(ChannelReader.UNREAD)) {
                section.problem(
                        key,
                        "channel \"" + found.name() + "\" measures in "
                                + found.range().unit().symbol() + ", but " + unit.symbol() + " is wanted here");
            }
            String other = channelUsers.putIfAbsent(found.name(), section.pathOf(key));
            if (other != null) {
                section.problem(key, "channel \"" + found.name() + "\" is in use already, for " + other);
            }
        });
        return channel;
    }

    private Optional<Integer> relay(TomlSection section, String key, String user) {
        Optional<Integer> relay = section.optionalInteger(key, 0, MAX_RELAY);
        relay.map(bit -> relayUsers.putIfAbsent(bit, user))
                .ifPresent(other -> section.problem(key, "this relay switches " + other + " already"));
        return relay;
    }

    private List<InterlockConfig> interlocks() {
        List<InterlockConfig> interlocks = new ArrayList<>();
        Map<Integer, String> taken = new HashMap<>();
        for (TomlSection section : root.tables("interlocks", 0, BoardConfig.MAX_BITS)) {
            InterlockConfig interlock = new InterlockConfig(
                    section.text("name"),
                    section.integer("input", 0, BoardConfig.MAX_BITS - 1),
                    section.flag("emergency_stop", false));
            String other = section.good("input") ? taken.putIfAbsent(interlock.input(), interlock.name()) : null;
            if (other != null) {
                section.problem("input", interlock.input() + " is the input of \"" + other + "\" already");
            }
            interlocks.add(interlock);
        }
        return interlocks;
    }

    private void requireSimulationFits(Optional<TomlSection> simulation) {
        if (!links.kindsGood()) {
            return;
        }
        boolean memory = links.links().values().stream().anyMatch(LinkConfig.Memory.class::isInstance);
        if (memory && simulation.isEmpty() && root.good("simulation")) {
            root.problem("simulation", "is missing; links of kind \"memory\" lead to simulated instruments");
        }
        boolean real = links.links().values().stream().anyMatch(link -> !(link instanceof LinkConfig.Memory));
        if (real) {
            simulation.ifPresent(section -> section.problem(
                    "belongs to a bench whose links are all of kind \"memory\"; this one has real links too"));
        }
    }

    private static SafetyConfig safety(TomlSection section) {
        return new SafetyConfig(
                section.number("max_output_V", 1, 1000),
                section.number("max_power_W", 1, 50_000),
                section.number("lead_resistance_Ohm", 0, 10));
    }

    private static SimulationConfig simulation(TomlSection section) {
        return new SimulationConfig(
                section.text("unit"),
                section.optionalText("fault"),
                section.integer("noise_seed", 0, Integer.MAX_VALUE),
                section.number("pace_ratio", 0, 10_000, 0),
                section.number("board_clock_ppm", -1000, 1000, 0) * 1e-6,
                section.number("mains_crest_ratio", 1.19, 1.415, Math.sqrt(2)));
    }

    private static Map<String, Quantity> probes() {
        Map<String, Quantity> probes = new LinkedHashMap<>();
        probes.put("output", Quantity.OUTPUT);
        probes.put("raw", Quantity.RAW);
        probes.put("base", Quantity.BASE);
        probes.put("reference", Quantity.REFERENCE);
        probes.put("sense_tap", Quantity.SENSE_TAP);
        probes.put("heat_sink", Quantity.HEAT_SINK);
        return probes;
    }

    private static BoardConfig noBoard() {
        return new BoardConfig("?", Optional.empty(), Duration.ofMillis(500), Optional.empty(), List.of());
    }

    private static LineConfig noLine() {
        return new LineConfig(new LineConfig.Fixed(), Optional.empty(), 1, 1, 50, 50, Duration.ZERO);
    }
}

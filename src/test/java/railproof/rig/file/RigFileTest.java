package railproof.rig.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.base.Unit;
import railproof.instrument.LoadCommand;
import railproof.instrument.LoadDialect;
import railproof.run.Quantity;
import railproof.wire.ScpiSettings;

class RigFileTest {
    /** Line numbers of the expected messages count in this text. */
    private static final String GOOD =
            """
            name = "small"
            title = "A small bench"
            calibration_file = "small.calibration.toml"
            [links]
            board = { kind = "serial", usb = "1209:00ab", usb_serial = "B1", baud = 1_000_000 }
            load = { kind = "tcp", host = "load.example", port = 5025 }
            source = { kind = "unix", path = "/run/source" }
            second = { kind = "serial", port = "COM3", baud = 9600, parity = "even", flow = "rts-cts", data_bits = 7, stop_bits = 2 }
            [board]
            link = "board"
            serial_number = "B1"
            heartbeat_timeout_ms = 300
            line_relay = 0
            [line]
            kind = "programmable"
            link = "source"
            dialect = "odd"
            channel = "line"
            min_V = 10
            max_V = 260
            min_frequency_Hz = 47
            max_frequency_Hz = 63
            settle_ms = 700
            [loads.first]
            link = "load"
            dialect = "odd"
            max_current_A = 30
            max_voltage_V = 60
            max_power_W = 150
            min_operating_V = 0.8
            current_resolution_A = 0.001
            current_gain_u_pct = 0.05
            current_offset_u_A = 0.003
            [loads.other]
            link = "second"
            dialect = "standard"
            max_current_A = 1
            max_voltage_V = 500
            max_power_W = 100
            min_operating_V = 1
            current_resolution_A = 0.00001
            current_gain_u_pct = 0.05
            current_offset_u_A = 0
            [dialects.odd]
            terminator_out = "crlf"
            command_gap_ms = 20
            reply_timeout_ms = 800
            max_line_length = 64
            echo = true
            error_query = ""
            ignored_errors = [-113]
            operation_complete = false
            identity_pattern = "ODD,.*"
            mode_change_drops_input = true
            settle_ms = 50
            watchdog_timeout_s = 1.5
            [dialects.odd.commands]
            input_on = "LOAD ON"
            level_current = "CURR:LEV %sA"
            watchdog = "WDOG %s"
            questionable_query = ""
            [ranges.volts]
            full_scale_V = 40
            gain_u_pct = 0.02
            offset_u_V = 0.001
            noise_rms_V = 0.0004
            nonlinearity_u_pct = 0.002
            [ranges.mains]
            full_scale_V = 600
            gain_u_pct = 0.1
            offset_u_V = 0.1
            noise_rms_V = 0.05
            [ranges.sensor]
            full_scale_C = 200
            zero_C = -50
            gain_u_pct = 0.2
            offset_u_C = 0.5
            noise_rms_C = 0.05
            [channels]
            line = { input = 0, range = "mains" }
            output = { input = 1, range = "volts" }
            output-2 = { input = 2, range = "volts" }
            sink = { input = 31, range = "sensor" }
            [[positions]]
            name = "left"
            load = "first"
            load_relay = 1
            output = "output"
            heat_sink = "sink"
            [[positions]]
            name = "right"
            load = "other"
            output = "output-2"
            [[interlocks]]
            name = "cover"
            input = 3
            [safety]
            max_output_V = 40
            max_power_W = 150
            lead_resistance_Ohm = 0.015
            """;

    @Test
    void readsInstrumentsAndHowTheyAreReached() throws BadFileException {
        RigConfig rig = RigFile.parse("small.toml", GOOD).config();

        assertEquals("small", rig.name());
        assertEquals(Optional.of("small.calibration.toml"), rig.calibrationFile());
        assertEquals(
                List.of(
                        new LinkConfig.Serial(
                                "board",
                                Optional.empty(),
                                Optional.of(new LinkConfig.UsbId(0x1209, 0x00ab, Optional.of("B1"))),
                                new LinkConfig.SerialFormat(
                                        1_000_000, 8, 1, LinkConfig.Parity.NONE, LinkConfig.Flow.NONE)),
                        new LinkConfig.Tcp("load", "load.example", 5025),
                        new LinkConfig.Unix("source", "/run/source"),
                        new LinkConfig.Serial(
                                "second",
                                Optional.of("COM3"),
                                Optional.empty(),
                                new LinkConfig.SerialFormat(
                                        9600, 7, 2, LinkConfig.Parity.EVEN, LinkConfig.Flow.RTS_CTS))),
                rig.links());
        assertEquals("second", rig.link(rig.load("other").link()).name());
        assertEquals(new LoadConfig("first", "load", odd(), 30, 60, 150, 0.8, 0.001, 5e-4, 0.003), rig.load("first"));
        assertEquals(LoadDialect.standard(), rig.load("other").dialect());
        assertEquals("B1", rig.board().serialNumber().orElseThrow());
        assertEquals(Duration.ofMillis(300), rig.board().heartbeatTimeout());
        assertEquals(Optional.of(0), rig.board().lineRelay());
        assertEquals(32, rig.board().inputsNeeded());
        assertEquals(List.of(new InterlockConfig("cover", 3, false)), rig.interlocks());
        assertEquals(new SafetyConfig(40, 150, 0.015), rig.safety());
        assertEquals(Optional.empty(), rig.simulation());
    }

    @Test
    void readsChannelsPositionsAndLine() throws BadFileException {
        RigConfig rig = RigFile.parse("small.toml", GOOD).config();

        InputRange volts = new InputRange("volts", Unit.VOLT, 40, 0, 2e-4, 0.001, 0.0004, 2e-5, 0);
        ChannelConfig sink =
                new ChannelConfig("sink", 31, new InputRange("sensor", Unit.CELSIUS, 200, -50, 0.002, 0.5, 0.05, 0, 0));
        assertEquals(
                new PositionConfig(
                        "left",
                        "first",
                        Optional.of(1),
                        Map.of(Quantity.OUTPUT, new ChannelConfig("output", 1, volts), Quantity.HEAT_SINK, sink)),
                rig.positions().get(0));
        assertEquals(Optional.empty(), rig.positions().get(1).channel(Quantity.RAW));
        assertEquals(
                new LineConfig(
                        new LineConfig.Programmable("source", odd().scpi()),
                        Optional.of(new ChannelConfig(
                                "line", 0, new InputRange("mains", Unit.VOLT, 600, 0, 0.001, 0.1, 0.05, 0, 0))),
                        10,
                        260,
                        47,
                        63,
                        Duration.ofMillis(700)),
                rig.line());
    }

    @Test
    void readsAHandTurnedAndAFixedLine() throws BadFileException {
        String operator = BuiltInFiles.rig("one-rail-bench").source().text();
        String fixed =
                operator.replace("kind = \"operator\"", "kind = \"fixed\"").replaceAll("(?m)^band_pct.*\\n", "");

        assertEquals(
                new LineConfig.Operator(0.01),
                RigFile.parse("f", operator).config().line().feed());
        assertEquals(
                new LineConfig.Fixed(),
                RigFile.parse("f", fixed).config().line().feed());
        assertEquals(60, RigFile.parse("f", fixed).config().line().maxFrequencyHz());
    }

    @Test
    void readsTheSimulationOfTheBuiltInBench() {
        assertEquals(
                Optional.of(new SimulationConfig(SimulationConfig.AUTO, Optional.empty(), 1975, 0)),
                BuiltInFiles.rig("simulated-bench").config().simulation());
    }

    @Test
    void readsTheFileItIsGiven(@TempDir Path folder) throws IOException, BadFileException {
        Path file = Files.writeString(folder.resolve("small.toml"), GOOD);

        assertEquals(GOOD, RigFile.read(file).source().text());
    }

    /** A bipolar input of n bits: code 2^(n-1) would be full scale, code 0 the zero. */
    @Test
    void scaleRunsFromZeroToFullScaleOverHalfTheCodes() {
        InputRange volts = new InputRange("v", Unit.VOLT, 40, 0, 0, 0, 0, 0, 0);
        InputRange sensor = new InputRange("t", Unit.CELSIUS, 200, -50, 0, 0, 0, 0, 0);

        // exact in binary, so without tolerance
        assertEquals(20.0, volts.value(16384, 16));
        assertEquals(-40.0, volts.value(-32768, 16));
        assertEquals(75.0, sensor.value(16384, 16));
        assertEquals(16384, volts.code(20, 16));
        assertEquals(32767, volts.code(41, 16));
        assertEquals(-32768, volts.code(-1000, 16));
        assertEquals(16384, sensor.code(75, 16));
    }

    /** Every kind of slip between tables, one each: the exact message, with its place. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "link = \"load\" | link = \"lood\" | 25:1: loads.first.link: there is no link \"lood\"; did you mean \"load\"?|6:1: links.load: no instrument uses this link",
                "link = \"second\" | link = \"load\" | 8:1: links.second: no instrument uses this link|35:1: loads.other.link: \"load\" is the link of the load first already; one link serves one instrument",
                "dialect = \"standard\" | dialect = \"standrad\" | 36:1: loads.other.dialect: there is no dialect \"standrad\"; did you mean \"standard\"?|",
                "[dialects.odd] | [dialects.standard] | 44:1: dialects.standard: the dialect \"standard\" is built in; give this one another name|",
                "usb = \"1209:00ab\" | usb = \"1209-00ab\" | 5:28: links.board.usb: must be four hexadecimal digits, a colon and four more, as in \"1209:0001\"; found \"1209-00ab\"|",
                "usb = \"1209:00ab\" | port = \"COM1\" | 5:43: links.board.usb_serial: belongs to usb|",
                "port = \"COM3\", | `` | 8:1: links.second: needs either port (the device's path) or usb (vendor:product)|",
                "kind = \"unix\" | kind = \"unx\" | 7:12: links.source.kind: \"unx\" is not one of memory, serial, tcp, unix; did you mean \"unix\"?|",
                "kind = \"unix\" | kind = \"memory\" | 0: simulation: is missing; links of kind \"memory\" lead to simulated instruments|7:29: links.source.path: unknown key; allowed here: kind",
                "load_relay = 1 | load_relay = 0 | 87:1: positions[1].load_relay: this relay switches the line already|",
                "input = 2, | input = 1, | 82:14: channels.output-2.input: 1 is the input of channel \"output\" already|",
                "input = 31, | input = 32, | 83:10: channels.sink.input: must be a whole number from 0 to 31; found the number 32|",
                "range = \"volts\" | range = \"vots\" | 81:23: channels.output.range: there is no range \"vots\"; did you mean \"volts\"?|",
                "output = \"output-2\" | output = \"output-3\" | 93:1: positions[2].output: there is no channel \"output-3\"; did you mean \"output-2\"?|",
                "output = \"output-2\" | output = \"output\" | 93:1: positions[2].output: channel \"output\" is in use already, for positions[1].output|",
                "output = \"output-2\" | raw = \"output-2\" | 90:1: positions[2].output: is missing; it must be the name of a channel|",
                "heat_sink = \"sink\" | raw = \"sink\" | 89:1: positions[1].raw: channel \"sink\" measures in °C, but V is wanted here|",
                "channel = \"line\" | channel = \"sink\" | 18:1: line.channel: channel \"sink\" measures in °C, but V is wanted here|18:1: line.channel: channel \"sink\" is in use already, for positions[1].heat_sink",
                "name = \"right\" | name = \"left\" | 91:1: positions[2].name: another position is called \"left\" already|",
                "full_scale_C = 200 | full_scale_C = 200~full_scale_V = 1 | 73:1: ranges.sensor: needs either full_scale_V, for voltages, or full_scale_C, for temperatures|",
                "zero_C = -50 | zero_C = 200 | 74:1: ranges.sensor.full_scale_C: 200.0 is not above zero_C, 200.0|",
                "min_V = 10 | min_V = 261 | 19:1: line.min_V: 261.0 is above max_V, 260.0|",
                "min_frequency_Hz = 47 | min_frequency_Hz = 64 | 21:1: line.min_frequency_Hz: 64.0 is above max_frequency_Hz, 63.0|",
                "\"ODD,.*\" | \"ODD(\" | 53:1: dialects.odd.identity_pattern: is not a regular expression: Unclosed group|",
                "\"LOAD ON\" | \"\" | 58:1: dialects.odd.commands.input_on: must not be empty: no load can be used without this command|",
                "\"LOAD ON\" | \"LOAD %s\" | 58:1: dialects.odd.commands.input_on: takes no number, so it must not hold %s; found \"LOAD %s\"|",
                "\"CURR:LEV %sA\" | \"CURR:LEV\" | 59:1: dialects.odd.commands.level_current: must hold %s where the number goes; found \"CURR:LEV\"|",
                "\"CURR:LEV %sA\" | \"CURR %d\" | 59:1: dialects.odd.commands.level_current: '%' may stand only in one %s, where the number goes; found \"CURR %d\"|",
                "watchdog = | watch = | 60:1: dialects.odd.commands.watch: unknown key; allowed here: remote, local, input_on, input_off, input_query, mode_current, mode_voltage, mode_resistance, mode_query, level_current, level_voltage, level_resistance, protect_current, protect_current_query, protect_voltage, protect_voltage_query, protect_power, protect_power_query, protect_clear, measure_voltage, measure_current, questionable_query, watchdog|",
                "heartbeat_timeout_ms = 300 | heartbeat_timeout_ms = 100 | 12:1: board.heartbeat_timeout_ms: must be a number from 200 to 2000; found the number 100|",
                "[[interlocks]] | [[interlocks]]~name = \"stop\"~input = 3~[[interlocks]] | 99:1: interlocks[2].input: 3 is the input of \"stop\" already|",
                "[safety] | [simulation]~unit = \"auto\"~noise_seed = 1~[safety] | 97:1: simulation: belongs to a bench whose links are all of kind \"memory\"; this one has real links too|",
            })
    void slipsBetweenTablesAreNamedWithTheirPlace(String right, String wrong, String first, String second) {
        String bad = GOOD.replaceFirst(
                Pattern.quote(right), java.util.regex.Matcher.quoteReplacement(wrong.replace('~', '\n')));
        assertTrue(!bad.equals(GOOD), right);

        List<String> expected = second == null ? List.of(first) : List.of(first, second);
        List<String> found = problems(bad).stream()
                .map(problem ->
                        problem.text().replaceFirst("^small.toml: ", "0: ").replaceFirst("^small.toml:", ""))
                .toList();
        assertEquals(
                expected.stream().sorted().toList(), found.stream().sorted().toList());
    }

    @Test
    void emptyFileSaysWhatIsMissing() {
        assertEquals(
                List.of(
                        "links",
                        "ranges",
                        "channels",
                        "name",
                        "title",
                        "board",
                        "loads",
                        "positions",
                        "line",
                        "safety"),
                problems("").stream().map(Problem::key).toList());
    }

    private static List<Problem> problems(String text) {
        return assertThrows(BadFileException.class, () -> RigFile.parse("small.toml", text))
                .problems();
    }

    private static LoadDialect odd() {
        return new LoadDialect(
                "odd",
                new ScpiSettings(
                        "\r\n",
                        Duration.ofMillis(20),
                        Duration.ofMillis(800),
                        64,
                        true,
                        "",
                        List.of(-113),
                        false,
                        "ODD,.*"),
                Map.of(
                        LoadCommand.INPUT_ON, "LOAD ON",
                        LoadCommand.LEVEL_CURRENT, "CURR:LEV %sA",
                        LoadCommand.WATCHDOG, "WDOG %s",
                        LoadCommand.QUESTIONABLE_QUERY, ""),
                true,
                Duration.ofMillis(50),
                Duration.ofMillis(1500));
    }
}

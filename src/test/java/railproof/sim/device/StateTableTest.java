package railproof.sim.device;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;

/**
 * Every request of firmware-protocol/states.csv in every state. The reference firmware's own tests read the same file, so
 * that two device sides, written in two languages, answer alike.
 */
class StateTableTest {
    private static final long MS = 1_000_000;
    private static final List<String> STATES = List.of("BOOT", "SAFE", "ARMED", "ACTIVE", "TRIPPED");
    private static final List<String> ERRORS = List.of(
            "ok",
            "BAD_TYPE",
            "BAD_LENGTH",
            "BAD_VALUE",
            "BAD_STATE",
            "BUSY",
            "NOT_ARMED",
            "FAULT_LATCHED",
            "LOCKED",
            "NO_DATA",
            "VERSION",
            "HARDWARE",
            "INTERLOCK");

    /** A row: a request, and what each state answers. */
    record Row(int type, String name, String request, List<String> answers, String about) {
        static Row of(String line) {
            List<String> cells = List.of(line.split(",", -1));
            return new Row(Integer.decode(cells.get(0)), cells.get(1), cells.get(2), cells.subList(3, 8), cells.get(8));
        }
    }

    static Stream<Row> rows() throws IOException {
        return Files.readAllLines(Path.of("firmware-protocol", "states.csv")).stream()
                .skip(1)
                .map(Row::of);
    }

    private final List<Frame> frames = new ArrayList<>();
    private final FrameDecoder decoder = new FrameDecoder(1024);
    private SimulatedBoard board = fresh();
    private long nowNs;
    private int seq;

    private SimulatedBoard fresh() {
        List<AdcChannel> inputs = List.of(AdcChannel.ideal("one", -10.24, 10.24), AdcChannel.ideal("two", 0, 100));
        return new SimulatedBoard(
                BoardSettings.standard("B-0001", inputs, 7), new DarkInputs(), BoardOutputs.none(), 0);
    }

    private void hear(byte[] bytes) {
        decoder.feed(bytes, 0, bytes.length, (Decoded decoded) -> frames.add((Frame) decoded));
    }

    private void pass(long durationNs) {
        nowNs += durationNs;
        board.advanceTo(nowNs, this::hear);
    }

    private Frame ask(int type, String hex) {
        int own = seq++;
        byte[] payload = HexFormat.of().parseHex(hex);
        board.receive(FrameEncoder.wire(new Frame(FrameKind.REQUEST, 0, own, type, payload)), this::hear);
        Optional<Frame> answer = answerTo(own, type);
        if (answer.isEmpty()) { // it comes when its samples are taken
            pass(5 * MS);
            answer = answerTo(own, type);
        }
        return answer.orElseThrow(() -> new AssertionError("no answer"));
    }

    private Optional<Frame> answerTo(int own, int type) {
        return frames.stream()
                .filter(f -> f.seq() == own && f.type() == type)
                .filter(f -> f.kind() == FrameKind.RESPONSE || f.kind() == FrameKind.ERROR)
                .findFirst();
    }

    private static String littleHex(int value) {
        byte[] bytes = ByteBuffer.allocate(4)
                .order(ByteOrder.LITTLE_ENDIAN)
                .putInt(value)
                .array();
        return HexFormat.of().formatHex(bytes);
    }

    /** A new board, brought into a state; the token in force, or 1. */
    private int enter(String state) {
        frames.clear();
        nowNs = 0;
        board = fresh();
        pass(0);
        int token = 1;
        if (!state.equals("BOOT")) {
            pass(20 * MS);
        }
        if (List.of("ARMED", "ACTIVE", "TRIPPED").contains(state)) {
            token = ByteBuffer.wrap(ask(0x10, "41524d2101000000d0070000").payload())
                    .order(ByteOrder.LITTLE_ENDIAN)
                    .getInt();
        }
        if (state.equals("ACTIVE")) {
            ask(0x21, "01000000" + littleHex(token));
        }
        if (state.equals("TRIPPED")) {
            board.input(0, false);
            board.input(0, true);
        }
        assertEquals(STATES.indexOf(state), ask(0x07, "").payload()[0], "the state itself");
        frames.clear();
        return token;
    }

    @ParameterizedTest
    @MethodSource("rows")
    void answersAsTheTableSays(Row row) {
        for (int state = 0; state < STATES.size(); state++) {
            int token = enter(STATES.get(state));

            Frame answer = ask(row.type(), row.request().replace("token", littleHex(token)));

            String seen = "ok";
            if (answer.kind() == FrameKind.ERROR) {
                ByteBuffer error = ByteBuffer.wrap(answer.payload()).order(ByteOrder.LITTLE_ENDIAN);
                seen = ERRORS.get(error.getShort()) + "@" + error.getShort();
            }
            String wanted = row.answers().get(state);
            if (wanted.equals("BAD_STATE")) {
                wanted += "@" + state;
            } else if (wanted.equals("FAULT_LATCHED")) {
                wanted += "@" + SafetyCore.INTERLOCK_OPEN;
            } else if (wanted.equals("NOT_ARMED")) {
                wanted += "@0";
            }
            assertEquals(wanted, seen, STATES.get(state) + " " + row);
        }
    }
}

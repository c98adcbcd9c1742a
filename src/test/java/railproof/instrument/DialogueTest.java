package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.DarkInputs;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;

/**
 * A long random conversation with the simulated board, answer by answer as in firmware-protocol/vectors/dialogue.txt. The
 * reference firmware's tests hold the same conversation: what one device side answers, the other has to. Where a field is
 * each board's own (clock, boot id, token, names), the file has dots.
 *
 * <p>After a change of the protocol: {@code -Drailproof.writeDialogue=true} writes the file anew, to be read and committed.
 */
class DialogueTest {
    private static final Path FILE = Path.of("firmware-protocol", "vectors", "dialogue.txt");
    private static final long SEED = 20261125;
    private static final int REQUESTS = 1500;
    private static final long STEP_US = 20_000;
    private static final int SHARE_DAMAGED = 8;
    private static final Set<String> OWN = Set.of(
            "boot_id",
            "ticks",
            "start_ticks",
            "rx_ticks",
            "tx_ticks",
            "arm_token",
            "board",
            "serial",
            "build",
            "heartbeat_age_ms");

    private final Random random = new Random(SEED);
    private final List<String> said = new ArrayList<>();
    private final List<Frame> frames = new ArrayList<>();
    private final FrameDecoder decoder = new FrameDecoder(1024);
    private final SimulatedBoard board = board();
    private long nowUs;
    private int seq;
    private long token = 1;
    private int captureId;

    private static SimulatedBoard board() {
        List<AdcChannel> inputs = IntStream.range(0, 32)
                .mapToObj(c -> AdcChannel.ideal("in " + c, -10.24, 10.24))
                .toList();
        return new SimulatedBoard(
                new BoardSettings("sim", "B-1", inputs, 8, 1, 0x80, 8192, 1024, 10, 8, 5, 1, 0),
                new DarkInputs(),
                BoardOutputs.none(),
                0);
    }

    private void hear(byte[] bytes) {
        decoder.feed(bytes, 0, bytes.length, (Decoded decoded) -> frames.add((Frame) decoded));
    }

    private void pass(long durationUs) {
        said.add("run " + durationUs);
        nowUs += durationUs;
        board.advanceTo(nowUs * 1000, this::hear);
    }

    private int below(int bound) {
        return random.nextInt(bound);
    }

    private int pick(int... choices) {
        return choices[below(choices.length)];
    }

    /** A request that makes sense now and then; the token stands for itself. */
    private PayloadWriter request(BoardMessage message) {
        PayloadWriter w = message.request();
        switch (message) {
            case IDENTIFY -> w.set("min_major", pick(1, 1, 2)).set("max_major", pick(1, 3));
            case CHANNEL_INFO_READ -> w.set("channel", below(34));
            case PING -> w.rest(new byte[below(20)]);
            case HEARTBEAT -> w.set("arm_token", token).set("timeout_ms", pick(0, 0, 1990, 150));
            case CLOCK_READ -> w.set("host_opaque", random.nextLong());
            case ARM -> w.set("magic", 0x214D5241).set("nonce", below(1000)).set("timeout_ms", pick(1990, 990, 2001));
            case FAULT_CLEAR -> w.set("bits", pick(0x3FF, 0x3FF, 1, 0));
            case LIMIT_SET ->
                w.set("channel", below(3))
                        .set("enable", pick(0, 0, 1))
                        .set("low_code", pick(-32768, -1, 1))
                        .set("high_code", pick(32767, 0, -1))
                        .set("delay_us", pick(0, 5000));
            case RELAY_SET ->
                w.set("mask", pick(1, 2, 0x80, 0xFF, 0x100))
                        .set("value", below(256))
                        .set("arm_token", token);
            case LOAD_ENABLE_SET -> w.set("on", pick(0, 1, 1)).set("arm_token", token);
            case ANALOG_READ ->
                w.set("channel_mask", pick(1, 6, 0))
                        .set("samples", pick(1, 50))
                        .set("period_ticks", pick(4, 100, 1000));
            case CAPTURE_CONFIGURE ->
                w.set("channel_mask", pick(1, 6, 0xFF))
                        .set("trigger", below(7))
                        .set("trigger_channel", pick(0, 1))
                        .set("period_ticks", pick(4, 100, 250))
                        .set("scans", pick(50, 400, 9000))
                        .set("pre_scans", pick(0, 0, 10, 50))
                        .set("level_code", pick(0, 0, -5))
                        .set("trigger_timeout_ms", pick(0, 90));
            case CAPTURE_CONTROL -> w.set("capture_id", captureId).set("op", pick(1, 1, 2, 2, 3, 4));
            case CAPTURE_READ ->
                w.set("capture_id", captureId).set("offset", pick(0, 30, 1000)).set("count", pick(1, 20, 50));
            case STREAM_START ->
                w.set("channel_mask", 0xFFFFFFFFL)
                        .set("period_ticks", pick(4, 1000, 2000))
                        .set("credits", pick(0, 3));
            case STREAM_CREDIT -> w.set("capture_id", captureId).set("credits", pick(0, 5, 65535));
            case STREAM_STOP -> w.set("capture_id", captureId);
            case CAL_READ -> w.set("offset", pick(0, 0, 5)).set("count", pick(1012, 4, 1013));
            case CAL_WRITE -> w.set("offset", pick(0, 0, 3, 2000)).rest(new byte[] {1, 2, (byte) below(3)});
            case CAL_COMMIT ->
                w.set("magic", 0x214C4143)
                        .set("record_crc", pick(0xD202EF8D, 0xA505DF1B) & 0xFFFFFFFFL) // of bytes 00 and 01
                        .set("length", pick(1, 1, 0));
            case SELF_TEST -> w.set("tests", pick(0xFF, 1, 7));
            case RESET -> w.set("magic", 0x54455352);
            default -> {
                // no fields
            }
        }
        return w;
    }

    private void ask(BoardMessage message) {
        byte[] payload = request(message).bytes();
        String hex = hex(payload);
        Optional<PayloadField> ownToken = message.layout(FrameKind.REQUEST).fields().stream()
                .filter(f -> f.name().equals("arm_token"))
                .findFirst();
        if (ownToken.isPresent()) {
            hex = hex.substring(0, 2 * ownToken.get().offset()) + "token";
        } else if (payload.length > 0 && below(SHARE_DAMAGED) == 0) {
            payload[below(payload.length)] = (byte) below(256);
            hex = hex(payload);
        }
        said.add(String.format(Locale.ROOT, "ask %04x %s", message.id(), hex).strip());
        int own = seq++ & 0x7FFF;
        frames.clear();
        board.receive(FrameEncoder.wire(new Frame(FrameKind.REQUEST, 0, own, message.id(), payload)), this::hear);
        int[] at = {said.size()};
        pass(STEP_US);
        Optional<Frame> answer = frames.stream()
                .filter(f -> f.seq() == own && f.type() == message.id())
                .filter(f -> f.kind() == FrameKind.RESPONSE || f.kind() == FrameKind.ERROR)
                .findFirst();
        said.add(answer.map(f -> answer(message, f)).orElse("answer none"));
        assertTrue(said.get(at[0]).startsWith("run "));
    }

    private static String hex(byte[] bytes) {
        return HexFormat.of().formatHex(bytes);
    }

    private String answer(BoardMessage message, Frame frame) {
        StringBuilder hex = new StringBuilder(hex(frame.payload()));
        if (frame.kind() == FrameKind.RESPONSE) {
            PayloadLayout layout = message.layout(FrameKind.RESPONSE);
            PayloadReader reader = layout.reader(frame.payload());
            for (PayloadField field : layout.fields()) {
                // how many scans are lost until what was kept is out depends on the line
                boolean byLine =
                        field.name().equals("dropped") && message.name().startsWith("STREAM");
                if (byLine || OWN.contains(field.name())) {
                    int from = 2 * field.offset();
                    int to = 2 * (field.offset() + field.length());
                    hex.replace(from, to, ".".repeat(to - from));
                }
            }
            if (message == BoardMessage.ARM) {
                token = reader.get("arm_token");
            } else if (message == BoardMessage.CAPTURE_CONFIGURE || message == BoardMessage.STREAM_START) {
                captureId = reader.getInt("capture_id");
            }
        }
        return String.format(Locale.ROOT, "answer %d %02x %s", frame.kind().code(), frame.flags(), hex)
                .strip();
    }

    /** What is said next; the ways into the deeper states are walked more often than chance would. */
    private void next() {
        switch (below(14)) {
            case 0 -> {
                boolean closed = below(3) > 0;
                said.add("inputs " + (closed ? "ffff" : "fffe"));
                board.input(0, closed);
                pass(STEP_US); // the firmware looks every half millisecond
            }
            case 1 -> pass(pick(20_000, 100_000, 1_000_000, 2_500_000));
            case 2, 3 -> ask(BoardMessage.ARM);
            case 4 -> ask(BoardMessage.LOAD_ENABLE_SET);
            case 5 -> ask(BoardMessage.HEARTBEAT);
            case 6 -> ask(BoardMessage.FAULT_CLEAR);
            case 7 -> ask(BoardMessage.CAPTURE_CONTROL);
            default -> {
                BoardMessage[] all = BoardMessage.values();
                BoardMessage any = all[below(all.length)];
                // what is each build's own, and what would end most conversations early
                boolean leftOut = !any.kinds().contains(FrameKind.REQUEST)
                        || any == BoardMessage.CAPABILITY_READ
                        || any == BoardMessage.COUNTERS_READ
                        || any == BoardMessage.CHANNEL_INFO_READ
                        || (any == BoardMessage.RESET && below(4) > 0);
                if (!leftOut) {
                    ask(any);
                }
            }
        }
    }

    @Test
    void theSimulatedBoardSaysWhatTheFirmwareSays() throws IOException {
        board.advanceTo(0, this::hear);
        pass(STEP_US);
        while (seq < REQUESTS) {
            next();
        }
        said.add(
                0,
                "# A conversation, random from seed " + SEED
                        + ": made and checked by the Java tests, held by the firmware's tests.");
        said.add(
                1,
                "# run: microseconds pass; inputs: digital inputs; ask: type, payload; answer: kind, flags, payload. Dots: own.");
        String text = String.join("\n", said) + "\n";
        if (Boolean.getBoolean("railproof.writeDialogue")) {
            Files.writeString(FILE, text);
        }
        long kinds = said.stream().filter(line -> line.startsWith("answer 2")).count();
        assertTrue(kinds > REQUESTS / 3, kinds + " responses only");
        assertEquals(Files.readString(FILE, StandardCharsets.UTF_8), text);
    }
}

package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;
import railproof.wire.Noise;

/**
 * The host's codec against the golden vectors of the protocol page. The vectors were made by another program in another
 * language, from the message table alone.
 */
class ProtocolVectorsTest {
    static Stream<VectorFile.Vector> messages() throws IOException {
        return VectorFile.read("messages.txt", "frame").stream();
    }

    static Stream<VectorFile.Vector> framing() throws IOException {
        return VectorFile.read("framing.txt", "frame").stream();
    }

    static Stream<VectorFile.Vector> bad() throws IOException {
        return VectorFile.read("bad.txt", "bad").stream();
    }

    @ParameterizedTest
    @MethodSource({"messages", "framing"})
    void decodesAndEncodesTheFrame(VectorFile.Vector vector) {
        Frame frame = onlyFrame(vector.bytes("wire"));

        assertEquals(vector.header("kind"), frame.kind().code());
        assertEquals(vector.header("flags"), frame.flags());
        assertEquals(vector.header("seq"), frame.seq());
        assertEquals(vector.header("type"), frame.type());
        assertArrayEquals(vector.bytes("raw"), FrameEncoder.raw(frame));
        assertArrayEquals(vector.bytes("wire"), FrameEncoder.wire(frame));
        if (vector.lines.containsKey("wire-also")) {
            assertEquals(frame, onlyFrame(vector.bytes("wire-also")));
        }
    }

    @ParameterizedTest
    @MethodSource("messages")
    void readsAndWritesTheFieldsOfThePayload(VectorFile.Vector vector) {
        Frame frame = onlyFrame(vector.bytes("wire"));
        if (frame.kind() == FrameKind.ERROR) {
            assertEquals(vector.fields.get("code"), "" + FieldType.U16.read(frame.payload(), 0));
            return;
        }
        BoardMessage message = BoardMessage.of(frame.type()).orElseThrow();
        assertEquals(vector.line("message"), message + " " + frame.kind().name().toLowerCase(Locale.ROOT));
        PayloadLayout layout = message.layout(frame.kind());
        PayloadReader reader = layout.reader(frame.payload());
        PayloadWriter writer = layout.writer();
        Set<String> stated = new HashSet<>();

        for (Map.Entry<String, String> field : vector.fields.entrySet()) {
            String name = field.getKey();
            String value = field.getValue();
            stated.add(name.replaceAll("\\[.*", ""));
            if (value.startsWith("text ")) {
                assertEquals(value.substring(5), reader.text(name));
                writer.text(name, value.substring(5));
            } else if (value.startsWith("hex ")) {
                assertArrayEquals(VectorFile.hex(value.substring(4)), reader.rest());
                writer.rest(reader.rest());
            } else if (name.endsWith("]")) {
                String plain = name.substring(0, name.indexOf('['));
                int index = Integer.parseInt(name.substring(name.indexOf('[') + 1, name.length() - 1));
                assertEquals(Long.parseLong(value), reader.get(plain, index), name);
                writer.set(plain, index, reader.get(plain, index));
            } else {
                boolean signed = layout.field(name).type().name().startsWith("I");
                long read = reader.get(name);
                assertEquals(value, signed ? Long.toString(read) : Long.toUnsignedString(read), name);
                writer.set(name, reader.get(name));
            }
        }

        assertArrayEquals(frame.payload(), writer.bytes());
        for (PayloadField field : layout.fields()) {
            assertTrue(field.reserved() || stated.contains(field.name()), "not stated: " + field.name());
        }
    }

    @ParameterizedTest
    @MethodSource("bad")
    void dropsBadBytesForTheStatedReasonAndFindsTheNextFrame(VectorFile.Vector vector) {
        FrameDecoder decoder = new FrameDecoder(1024);
        List<Decoded> out = new ArrayList<>();
        byte[] bytes = vector.bytes("wire");
        decoder.feed(bytes, 0, bytes.length, out::add);
        byte[] good = FrameEncoder.wire(new Frame(FrameKind.REQUEST, 0, 1, 1, new byte[] {1, 0, 1, 0}));
        decoder.feed(good, 0, good.length, out::add);

        assertEquals(2, out.size());
        assertEquals(vector.line("reason"), ((Noise) out.get(0)).reason().name());
        assertTrue(out.get(1) instanceof Frame);
    }

    @Test
    void coversEveryMessageAndEveryReason() throws IOException {
        Set<String> covered = new HashSet<>();
        messages().forEach(v -> covered.add(v.line("message")));
        for (BoardMessage message : BoardMessage.values()) {
            for (FrameKind kind : message.kinds()) {
                String wanted = message + " " + kind.name().toLowerCase(Locale.ROOT);
                assertTrue(covered.contains(wanted), "no vector for " + wanted);
            }
        }
        Set<String> reasons = new HashSet<>();
        bad().forEach(v -> reasons.add(v.line("reason")));
        for (Noise.Reason reason : Noise.Reason.values()) {
            assertTrue(reasons.contains(reason.name()), "no vector for " + reason);
        }
    }

    @Test
    void theDeviceSideAnswersWithTheLengthsOfTheTable() throws IOException {
        SimulatedBench bench = new SimulatedBench();
        bench.board.advanceTo(0, bytes -> {});
        bench.board.advanceTo(20_000_000, bytes -> {});
        Set<BoardMessage> answered = new HashSet<>();
        for (VectorFile.Vector vector : VectorFile.read("messages.txt", "frame")) {
            Frame request = onlyFrame(vector.bytes("wire"));
            if (request.kind() != FrameKind.REQUEST) {
                continue;
            }
            List<Decoded> out = new ArrayList<>();
            FrameDecoder decoder = new FrameDecoder(1024);
            bench.board.receive(vector.bytes("wire"), bytes -> decoder.feed(bytes, 0, bytes.length, out::add));
            for (Decoded decoded : out) {
                Frame answer = (Frame) decoded;
                if (answer.kind() == FrameKind.RESPONSE) {
                    BoardMessage message = BoardMessage.of(answer.type()).orElseThrow();
                    PayloadLayout layout = message.layout(FrameKind.RESPONSE);
                    int rest = message == BoardMessage.PING ? request.payload().length : 0;
                    assertEquals(layout.fixedLength() + rest, answer.payload().length, message.name());
                    answered.add(message);
                }
            }
        }
        // the rest is refused in SAFE without a token, or answered only when samples were taken
        assertTrue(answered.size() >= 15, answered.toString());
    }

    private static Frame onlyFrame(byte[] wire) {
        List<Decoded> out = new ArrayList<>();
        new FrameDecoder(1024).feed(wire, 0, wire.length, out::add);
        assertEquals(1, out.size());
        return (Frame) out.get(0);
    }
}

package railproof.sim.device;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;

/** The device side by itself, spoken to in bytes of the protocol page. */
class SimulatedBoardTest {
    private static final long MS = 1_000_000;

    /** What happened at the terminals, with its time. */
    private static final class Terminals implements BoardOutputs, AnalogSource {
        final List<String> log = new ArrayList<>();
        double timeS;
        double inputV = 5;

        @Override
        public void relays(int energised) {
            log.add(String.format(Locale.ROOT, "%.4f relays %d", timeS, energised));
        }

        @Override
        public void loadEnable(boolean on) {
            log.add(String.format(Locale.ROOT, "%.4f load %b", timeS, on));
        }

        @Override
        public void advanceTo(double nowS) {
            timeS = nowS;
        }

        @Override
        public double voltageV(int channel) {
            return inputV;
        }
    }

    private final Terminals terminals = new Terminals();
    private final SimulatedBoard board = board(AdcChannel.ideal("out", -10.24, 10.24));
    private final FrameDecoder decoder = new FrameDecoder(1024);
    private final List<Frame> frames = new ArrayList<>();
    private final List<Decoded> all = new ArrayList<>();

    private SimulatedBoard board(AdcChannel channel) {
        return new SimulatedBoard(BoardSettings.standard("B-0001", List.of(channel), 7), terminals, terminals, 0);
    }

    private void hear(byte[] bytes) {
        decoder.feed(bytes, 0, bytes.length, all::add);
        frames.clear();
        all.stream().filter(Frame.class::isInstance).map(Frame.class::cast).forEach(frames::add);
    }

    private Frame last() {
        return frames.get(frames.size() - 1);
    }

    private Frame ask(int flags, int seq, int type, String payloadHex) {
        byte[] payload = HexFormat.of().parseHex(payloadHex.replace(" ", ""));
        board.receive(FrameEncoder.wire(new Frame(FrameKind.REQUEST, flags, seq, type, payload)), this::hear);
        return last();
    }

    private static ByteBuffer body(Frame frame) {
        return ByteBuffer.wrap(frame.payload()).order(ByteOrder.LITTLE_ENDIAN);
    }

    private static String little(int value) {
        return String.format(
                Locale.ROOT,
                "%02x%02x%02x%02x",
                value & 0xFF,
                value >> 8 & 0xFF,
                value >> 16 & 0xFF,
                value >> 24 & 0xFF);
    }

    private int arm(int seq) {
        Frame armed = ask(0, seq, 0x10, "41 52 4d 21 01 00 00 00 f4 01 00 00");
        assertEquals(FrameKind.RESPONSE, armed.kind());
        return body(armed).getInt(0);
    }

    @Test
    void answersEveryRequestOfTheVectorsWithAFrameOfTheSameSeqAndType() throws Exception {
        board.advanceTo(0, this::hear);
        board.advanceTo(20 * MS, this::hear);
        int requests = 0;
        for (String line : Files.readAllLines(Path.of("firmware-protocol/vectors/messages.txt"))) {
            if (!line.startsWith("wire ")) {
                continue;
            }
            byte[] wire = HexFormat.of().parseHex(line.substring(5).replace(" ", ""));
            List<Decoded> one = new ArrayList<>();
            new FrameDecoder(1024).feed(wire, 0, wire.length, one::add);
            Frame request = (Frame) one.get(0);
            int before = frames.size();
            board.receive(wire, this::hear);
            board.advanceTo((20 + ++requests * 400L) * MS, this::hear);
            if (request.kind() == FrameKind.REQUEST) {
                boolean answered = frames.subList(before, frames.size()).stream()
                        .anyMatch(f -> f.seq() == request.seq()
                                && f.type() == request.type()
                                && (f.kind() == FrameKind.RESPONSE || f.kind() == FrameKind.ERROR));
                assertTrue(answered, request.toString());
                frames.stream().filter(f -> f.kind() == FrameKind.ERROR).forEach(f -> {
                    assertFalse(body(f).getShort(0) == Refusal.BAD_LENGTH, f::toString);
                    assertFalse(body(f).getShort(0) == Refusal.BAD_TYPE, f::toString);
                });
            }
        }
        assertTrue(requests > 40);
    }

    @Test
    void answersWithTheExactBytesOfThePage() {
        board.advanceTo(0, this::hear);
        board.advanceTo(20 * MS, this::hear);

        // constant from reset to reset, so the whole payload can be written down: the vectors' values, one channel
        assertEquals(
                "0004 0020 02 01 08 10 40420f00 00000200 400d0300 05000000 10 00 c800 d007 0a00 0800 0100"
                                .replace(" ", "")
                        + "00000000f40100007f00000000040000",
                HexFormat.of().formatHex(ask(0, 3, 2, "").payload()));
        // -10.24 V and +10.24 V in microvolts
        assertEquals(
                "00100000" + "00c063ff" + "00409c00" + "6f7574000000000000000000",
                HexFormat.of().formatHex(ask(0, 4, 3, "00").payload()));
    }

    @Test
    void answersNothingToBadBytes() throws Exception {
        board.advanceTo(0, this::hear);
        board.advanceTo(20 * MS, this::hear);
        int before = all.size();
        for (String line : Files.readAllLines(Path.of("firmware-protocol/vectors/bad.txt"))) {
            if (line.startsWith("wire ")) {
                board.receive(HexFormat.of().parseHex(line.substring(5).replace(" ", "")), this::hear);
            }
        }
        assertEquals(before, all.size());

        ByteBuffer counters = body(ask(0, 1, 8, ""));
        // as many of each reason as the file states: 5 CRC, 3 COBS, 1 OVERLONG, 2+3+2+3+2 of the others
        assertEquals(
                List.of(5, 3, 1, 12),
                List.of(counters.getInt(8), counters.getInt(12), counters.getInt(16), counters.getInt(20)));
    }

    @Test
    void switchesLoadOffAtOnceAndRelaysLaterWhenTheHostFallsSilent() {
        board.advanceTo(0, this::hear);
        board.advanceTo(10 * MS, this::hear);
        int token = arm(1); // at 10 ms, time-out 500 ms
        ask(0, 2, 0x20, little(1) + little(1) + little(token));
        board.advanceTo(100 * MS, this::hear);
        ask(0, 3, 0x21, "01000000" + little(token));
        terminals.log.clear();

        board.advanceTo(5000 * MS, this::hear);

        // silent since 10 ms: load at 510 ms, relays commanded off 10 ms later, contacts 8 ms after that
        assertEquals(List.of("0.5100 load false", "0.5280 relays 0"), terminals.log);
        assertEquals(4, last().payload()[1]);
    }

    @Test
    void feedsOnlyOnTheRightToken() {
        board.advanceTo(0, this::hear);
        board.advanceTo(10 * MS, this::hear);
        int token = arm(1);

        board.advanceTo(400 * MS, this::hear);
        assertEquals(0, ask(0, 2, 5, "00000000" + little(token + 1)).payload()[24]);
        assertEquals(1, ask(0, 3, 5, "00000000" + little(token)).payload()[24]);
        board.advanceTo(899 * MS, this::hear);
        assertEquals(SafetyCore.ARMED, ask(0, 4, 5, "0000000000000000").payload()[0]);
        board.advanceTo(901 * MS, this::hear);
        assertEquals(
                SafetyCore.TRIPPED, ask(0, 5, 5, "00000000" + little(token)).payload()[0]);
    }

    @Test
    void repeatsTheAnswerByteByByteAndSwitchesOnce() {
        board.advanceTo(0, this::hear);
        board.advanceTo(10 * MS, this::hear);
        int token = arm(1);
        String relayOn = little(1) + little(1) + little(token);
        Frame first = ask(0, 2, 0x20, relayOn);
        board.advanceTo(50 * MS, this::hear);

        assertEquals(first, ask(Frame.RETRY, 2, 0x20, relayOn));
        assertEquals(first, ask(0, 2, 0x20, relayOn));
        assertEquals(1, board.executions());

        // a fifth request pushes the first out of the memory of four
        for (int seq = 3; seq <= 6; seq++) {
            ask(0, seq, 7, "");
        }
        ask(Frame.RETRY, 2, 0x20, relayOn);
        assertEquals(2, board.executions());
    }

    @Test
    void carriesOutSafeStateEvenIfItCameBefore() {
        board.advanceTo(0, this::hear);
        board.advanceTo(10 * MS, this::hear);
        ask(0, 65535, 0x11, "");
        int token = arm(1);
        ask(0, 2, 0x21, "01000000" + little(token));
        assertTrue(board.loadEnabled());

        ask(0, 65535, 0x11, "");

        assertFalse(board.loadEnabled());
    }

    @Test
    void servesOtherRequestsDuringAReadingAndDropsItsRepetition() {
        board.advanceTo(0, this::hear);
        board.advanceTo(10 * MS, this::hear);
        String hundredMs = "01000000 6400 0000 e8030000";
        int before = frames.size();
        board.receive(
                FrameEncoder.wire(
                        new Frame(FrameKind.REQUEST, 0, 9, 0x30, HexFormat.of().parseHex(hundredMs.replace(" ", "")))),
                this::hear);
        assertEquals(before, frames.size());

        board.advanceTo(50 * MS, this::hear);
        ask(Frame.RETRY, 9, 0x30, hundredMs);
        assertEquals(before, frames.size());
        assertEquals(FrameKind.RESPONSE, ask(0, 10, 4, "").kind());
        assertEquals(Refusal.BUSY, body(ask(0, 11, 0x30, hundredMs)).getShort(0));
        board.advanceTo(111 * MS, this::hear);

        assertEquals(9, last().seq());
        assertEquals(100, body(last()).getShort(12));
    }

    @Test
    void quantisesAndAddsGainOffsetAndNoiseAsSet() {
        double stepV = 20.48 / 65536;
        long seed = 7;
        SimulatedBoard real = board(new AdcChannel("out", -10.24, 10.24, 0.01, 0.05, 4 * stepV, 0));
        List<Frame> heard = new ArrayList<>();
        FrameDecoder own = new FrameDecoder(1024);
        real.advanceTo(0, b -> {});
        real.advanceTo(10 * MS, b -> {});
        real.receive(
                FrameEncoder.wire(
                        new Frame(FrameKind.REQUEST, 0, 1, 0x30, HexFormat.of().parseHex("010000000010000064000000"))),
                b -> {});
        real.advanceTo(1000 * MS, b -> own.feed(b, 0, b.length, d -> heard.add((Frame) d)));
        ByteBuffer sums = body(heard.get(heard.size() - 1));
        double n = 4096;
        double sum = sums.getLong(20 + 12);
        double mean = sums.getInt(20) + sum / n;
        double deviation = Math.sqrt((sums.getLong(20 + 20) - sum * sum / n) / (n - 1));

        // 5 V * 1.01 + 0.05 V; the mean of 4096 samples of 4 steps noise is good to 4/64 steps (1 sigma), 5 sigma
        assertEquals(5.10 / stepV, mean, 5 * 4 / 64.0, "seed " + seed);
        // rms of noise and quantisation: sqrt(16 + 1/12); a sample deviation of 4096 is good to 1/sqrt(2n) = 1.1 %
        assertEquals(Math.sqrt(16 + 1 / 12.0), deviation, 5 * 0.011 * 4, "seed " + seed);
    }

    @Test
    void filtersWithOnePole() {
        // a step at the input, first-order response: after one time constant 1 - 1/e of it
        double cornerHz = 100;
        double tauS = 1 / (2 * Math.PI * cornerHz);
        Random unused = new Random(1);
        double[] levelV = {0};
        double[] nowS = {0};
        AnalogSource source = new AnalogSource() {
            @Override
            public void advanceTo(double timeS) {
                nowS[0] = timeS;
                levelV[0] = timeS >= 0.05 ? 1 : 0;
            }

            @Override
            public double voltageV(int channel) {
                return levelV[0];
            }
        };
        FrontEnd front = new FrontEnd(
                List.of(new AdcChannel("out", -10.24, 10.24, 0, 0, 0, cornerHz)), source, unused.nextLong(), 0);
        int[] codes = new int[1];
        double stepV = 20.48 / 65536;
        for (int k = 1; k <= 200; k++) {
            front.sample(k * MS / 2, 1, codes);
            double t = k * 0.0005 - 0.05;
            double idealV = t < 0 ? 0 : 1 - Math.exp(-t / tauS);
            // the step is seen as a ramp over one inner step of half a sample period at most, so the response is early
            // or late by that at most; slope of the response is at most 1/tau
            assertEquals(idealV, codes[0] * stepV, 0.0005 / tauS + stepV, "k " + k);
        }
    }

    @Test
    void swallowsRandomBytesWithoutSpeakingOrFailing() {
        board.advanceTo(0, this::hear);
        board.advanceTo(10 * MS, this::hear);
        int before = all.size();
        long seed = 99;
        Random random = new Random(seed);
        for (int round = 0; round < 2000; round++) {
            byte[] noise = new byte[random.nextInt(300)];
            random.nextBytes(noise);
            board.receive(noise, this::hear);
        }
        board.receive(new byte[] {0}, this::hear);
        assertEquals(before, all.size(), "seed " + seed);
        assertEquals(FrameKind.RESPONSE, ask(0, 1, 4, "").kind());
    }

    @Test
    void refusesAnyRandomPayloadInWordsOrObeysButNeverFails() {
        board.advanceTo(0, this::hear);
        board.advanceTo(10 * MS, this::hear);
        long seed = 123;
        Random random = new Random(seed);
        int[] types = {1, 2, 3, 4, 5, 6, 7, 8, 0x10, 0x12, 0x13, 0x14, 0x20, 0x21, 0x31, 0x32, 0x33, 0x34, 0x99};
        for (int round = 0; round < 20_000; round++) {
            byte[] payload = new byte[random.nextInt(30)];
            random.nextBytes(payload);
            int type = types[random.nextInt(types.length)];
            int seq = round % 65_535;
            board.receive(FrameEncoder.wire(new Frame(FrameKind.REQUEST, 0, seq, type, payload)), this::hear);
            assertEquals(seq, last().seq(), "seed " + seed + " round " + round);
            all.clear();
        }
        assertArrayEquals(new int[] {0}, new int[] {board.contacts()});
        assertFalse(board.loadEnabled());
    }
}

package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ScpiClientTest {
    private static final String QUERY = ":MEAS:CURR?\n";

    private static ScpiSettings settings(String terminator, Duration gap, boolean echo) {
        return new ScpiSettings(
                terminator, gap, Duration.ofMillis(500), 40, echo, ":SYST:ERR?", List.of(-111), false, "LOAD");
    }

    private static ScpiSettings settings(String errorQuery, boolean operationComplete) {
        return new ScpiSettings(
                "\n", Duration.ZERO, Duration.ofMillis(500), 40, false, errorQuery, List.of(), operationComplete, "");
    }

    private static final ScpiSettings PLAIN = settings("\n", Duration.ZERO, false);

    private static ScpiClient client(ScpiScriptLink link) {
        return new ScpiClient(link, PLAIN);
    }

    @Test
    void asksOneQueryPerLineAndTakesItsNumber() throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> line.equals(QUERY) ? "+1.250E+00\n" : null);

        assertEquals(OptionalDouble.of(1.25), client(link).number(":MEAS:CURR?", "A"));
        assertEquals(List.of(QUERY), link.written);
    }

    @Test
    void givesNoNumberForASpecialValueAndDoesNotAskAgain() throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> "9.91E37\n");

        assertEquals(OptionalDouble.empty(), client(link).number(":MEAS:CURR?", "A"));
        assertEquals(1, link.written.size());
    }

    @ParameterizedTest
    @ValueSource(strings = {"\n", "\r\n", "\r"})
    void endsLinesAsTheDialectSaysAndTakesAnyEnd(String end) throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> "1" + end);
        ScpiClient client = new ScpiClient(link, settings(end, Duration.ZERO, false));

        client.query("A?");
        client.query("B?");

        assertEquals(List.of("A?" + end, "B?" + end), link.written);
        assertEquals(0, client.resyncs());
    }

    @Test
    void keepsTheGapBetweenLines() throws Exception {
        List<Long> atMs = new ArrayList<>();
        ScpiScriptLink[] link = new ScpiScriptLink[1];
        link[0] = new ScpiScriptLink(line -> {
            atMs.add(link[0].clock.nowNs() / 1_000_000);
            return "1\n";
        });
        ScpiClient client = new ScpiClient(link[0], settings("\n", Duration.ofMillis(30), false));

        client.query("A?");
        client.query("B?");
        client.query("C?");

        assertEquals(List.of(0L, 30L, 60L), atMs);
    }

    @Test
    void takesTheEchoBeforeTheReply() throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> line.startsWith(":SYST") ? line + "0,\"\"\n" : line + "7\n");
        ScpiClient client = new ScpiClient(link, settings("\n", Duration.ZERO, true));

        assertEquals("7", client.query("A?"));
        assertEquals(0, client.resyncs());
    }

    @Test
    void saysSoWhenADeviceEchoesAgainstItsDialect() {
        ScpiScriptLink link = new ScpiScriptLink(line -> line.endsWith("?\n") ? line + "1\n" : line);

        LinkException trouble =
                assertThrows(LinkException.class, () -> client(link).query("A?"));

        assertTrue(trouble.toString().contains("echoes"), trouble.toString());
    }

    @Test
    void takesABlockWithLineEndsInside() throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> "#14\n\n\n\n\n");

        assertArrayEquals(new byte[] {10, 10, 10, 10}, client(link).block("DATA?"));
        assertTrue(client(link).inStep());
    }

    @Test
    void refusesALongLineBeforeSendingIt() {
        ScpiScriptLink link = new ScpiScriptLink(line -> "1\n");

        assertThrows(LinkException.class, () -> client(link).query("A".repeat(41) + "?"));
        assertEquals(List.of(), link.written);
    }

    @Test
    void refusesALineBreakInsideALine() {
        ScpiScriptLink link = new ScpiScriptLink(line -> "1\n");

        assertThrows(LinkException.class, () -> client(link).command(":CURR 1\n:INP ON"));
        assertEquals(List.of(), link.written);
    }

    @Test
    void readsTheErrorQueueToItsEndAfterACommand() throws Exception {
        Deque<String> queue = new ArrayDeque<>(List.of("-222,\"Data out of range\"\n", "-111,\"\"\n", "-113\n"));
        ScpiScriptLink link = new ScpiScriptLink(
                line -> line.equals(":SYST:ERR?\n") ? queue.isEmpty() ? "+0,\"None\"\n" : queue.remove() : null);

        List<ScpiError> errors = client(link).command(":CURR 99");

        assertEquals(List.of(-222, -113), errors.stream().map(ScpiError::code).toList());
        assertEquals(5, link.written.size());
    }

    @Test
    void waitsForTheOperationToEndBeforeReadingItsErrors() throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> switch (line) {
            case "*OPC?\n" -> "1\n";
            case ":SYST:ERR?\n" -> "0\n";
            default -> null;
        });

        new ScpiClient(link, settings(":SYST:ERR?", true)).command(":CURR 1");

        assertEquals(List.of(":CURR 1\n", "*OPC?\n", ":SYST:ERR?\n"), link.written);
    }

    @Test
    void asksADeviceWithoutErrorQueueForItsEventRegister() throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> line.equals("*ESR?\n") ? "176\n" : null);
        ScpiClient client = new ScpiClient(link, settings("", false));

        // 176 = 128 power on + 32 command error + 16 execution error
        List<Integer> codes =
                client.command(":CURR 1").stream().map(ScpiError::code).toList();

        assertEquals(List.of(-100, -200), codes);
        assertTrue(client.powerCycled());
    }

    @Test
    void doesNotReadAnEndlessErrorQueueForEver() throws Exception {
        ScpiScriptLink link = new ScpiScriptLink(line -> line.equals(":SYST:ERR?\n") ? "-113,\"x\"\n" : null);

        List<ScpiError> errors = client(link).command(":CURR 1");

        assertEquals(ScpiClient.MAX_ERRORS + 1, errors.size());
        assertEquals(-350, errors.get(errors.size() - 1).code());
    }

    @Test
    void sendsACommandOnceEvenWhenItsAnswerIsLost() throws Exception {
        int[] asked = {0};
        ScpiScriptLink link = new ScpiScriptLink(line -> line.equals(":SYST:ERR?\n") && asked[0]++ > 0 ? "0\n" : null);

        List<ScpiError> errors = client(link).command(":INP ON");

        assertEquals(
                List.of(ScpiErrorKind.LINK_TROUBLE),
                errors.stream().map(ScpiError::kind).toList());
        assertEquals(1, Collections.frequency(link.written, ":INP ON\n"));
    }

    @Test
    void asksAgainAfterALostReplyAndGetsBackInStepFirst() throws Exception {
        int[] asked = {0};
        ScpiScriptLink link = ScpiScriptLink.orderly(line -> line.equals(QUERY) && asked[0]++ > 0 ? "2.5\n" : null);

        assertEquals(OptionalDouble.of(2.5), client(link).number(":MEAS:CURR?", "A"));
        assertEquals(
                List.of(QUERY, "\n", "*ESR?\n", ":SYST:ERR?\n", "*CLS\n", "*IDN?\n", ":SYST:ERR?\n", QUERY),
                link.written);
    }

    @Test
    void givesUpAfterThreeTriesAndTellsWhatTheDeviceSaid() {
        Deque<String> queue = new ArrayDeque<>();
        ScpiScriptLink link = new ScpiScriptLink(line -> switch (line) {
            case "*ESR?\n" -> "0\n";
            case "*IDN?\n" -> "LOAD\n";
            case ":SYST:ERR?\n" -> queue.isEmpty() ? "0\n" : queue.remove();
            case QUERY -> {
                queue.add("-113,\"Undefined header\"\n");
                yield null;
            }
            default -> null;
        });

        LinkTimeoutException trouble =
                assertThrows(LinkTimeoutException.class, () -> client(link).number(":MEAS:CURR?", "A"));

        assertEquals(3, Collections.frequency(link.written, QUERY));
        assertTrue(trouble.toString().contains("-113"), trouble.toString());
    }

    @Test
    void aLateReplyIsNotTakenForTheNextOne() throws Exception {
        ScpiScriptLink link = ScpiScriptLink.orderly(line -> line.equals(QUERY) ? "1.0\n" : null);
        ScpiClient client = client(link);
        link.inject("99.0\n");

        assertEquals(OptionalDouble.of(1.0), client.number(":MEAS:CURR?", "A"));
        assertEquals(1, client.resyncs());
    }

    @Test
    void twoRepliesToOneQuestionAreNoReply() throws Exception {
        int[] asked = {0};
        ScpiScriptLink link =
                ScpiScriptLink.orderly(line -> !line.equals(QUERY) ? null : asked[0]++ == 0 ? "99\n1.0\n" : "1.0\n");

        assertEquals(OptionalDouble.of(1.0), client(link).number(":MEAS:CURR?", "A"));
    }

    @Test
    void twiceNotBackInStepIsALinkThatIsDown() {
        ScpiScriptLink link = new ScpiScriptLink(line -> null);

        assertThrows(LinkDownException.class, () -> client(link).query("A?"));
        assertEquals(2, Collections.frequency(link.written, "*ESR?\n"));
    }

    @Test
    void anotherDeviceOnTheLineIsALinkThatIsDown() throws Exception {
        String[] who = {"LOAD,A\n"};
        ScpiScriptLink link = new ScpiScriptLink(line -> switch (line) {
            case "*ESR?\n", ":SYST:ERR?\n" -> "0\n";
            case "*IDN?\n" -> who[0];
            default -> null;
        });
        ScpiClient client = client(link);
        client.identify();
        who[0] = "LOAD,B\n";

        LinkDownException down = assertThrows(LinkDownException.class, () -> client.query("A?"));

        assertTrue(down.toString().contains("LOAD,B"), down.toString());
    }

    @Test
    void aDeviceThatNeverStopsSendingIsALinkThatIsDown() {
        ScpiScriptLink[] link = new ScpiScriptLink[1];
        link[0] = new ScpiScriptLink(line -> "U".repeat(5_000_000));

        assertThrows(LinkDownException.class, () -> client(link[0]).query("A?"));
    }

    @Test
    void keepsThePowerOnBitAndTheDevicesFaultsWhenGettingBackInStep() throws Exception {
        int[] asked = {0};
        Deque<String> queue = new ArrayDeque<>(List.of("202,\"Over-current\"\n", "-102,\"Syntax error\"\n"));
        ScpiScriptLink link = new ScpiScriptLink(line -> switch (line) {
            case "*ESR?\n" -> asked[0] == 1 ? "128\n" : "0\n";
            case "*IDN?\n" -> "LOAD\n";
            case ":SYST:ERR?\n" -> queue.isEmpty() ? "0\n" : queue.remove();
            case QUERY -> asked[0]++ == 0 ? null : "1\n";
            default -> null;
        });
        ScpiClient client = client(link);
        client.number(":MEAS:CURR?", "A");

        assertTrue(client.powerCycled());
        assertFalse(client.powerCycled());
        assertEquals(List.of(202), client.errors().stream().map(ScpiError::code).toList());
    }

    @Test
    void aStopOutOfAReadPassesThroughAndTheNextExchangeGetsBackInStep() throws Exception {
        ScpiScriptLink link = ScpiScriptLink.orderly(line -> line.equals(QUERY) ? "1.0\n" : null);
        ScpiClient client = client(link);
        LinkException stop = new LinkException("script", "stopped");
        link.nextRead = stop;

        assertSame(stop, assertThrows(LinkException.class, () -> client.number(":MEAS:CURR?", "A")));
        assertEquals(1, link.written.size());
        assertEquals(OptionalDouble.of(1.0), client.number(":MEAS:CURR?", "A"));
        assertEquals(1, client.resyncs());
    }

    @Test
    void anInterruptPassesThrough() {
        ScpiScriptLink link = ScpiScriptLink.orderly(line -> null);
        Thread.currentThread().interrupt();

        assertThrows(InterruptedException.class, () -> client(link).query("A?"));
        assertFalse(Thread.interrupted());
    }

    @Test
    void noPartOfAReplyEverBecomesANumber() {
        String reply = "-1.234567E+01\n";
        for (int length = 0; length < reply.length(); length++) {
            String part = reply.substring(0, length);
            ScpiScriptLink link = ScpiScriptLink.orderly(line -> line.equals(QUERY) ? part : null);

            assertThrows(LinkTimeoutException.class, () -> client(link).number(":MEAS:CURR?", "A"), part);
        }
    }

    /**
     * Garbled here means one byte replaced by one that has no place in a number; a digit that becomes another digit
     * cannot be seen on a line without checksum. Blanks and NUL at the edges are dropped by design, and left out; so is
     * the unit's own letter.
     */
    @Test
    void noGarbledReplyEverBecomesANumber() {
        long seed = 20261125;
        System.Logger log = System.getLogger("test");
        log.log(System.Logger.Level.INFO, "seed " + seed);
        Random random = new Random(seed);
        String legal = "0123456789+-.eE \t\r\n\0aA";
        for (int round = 0; round < 500; round++) {
            StringBuilder reply = new StringBuilder("+1.234567E+01\n");
            char bad;
            do {
                bad = (char) random.nextInt(256);
            } while (legal.indexOf(bad) >= 0);
            int at = random.nextInt(reply.length() - 1);
            reply.setCharAt(at, bad);
            ScpiScriptLink link = ScpiScriptLink.orderly(line -> line.equals(QUERY) ? reply.toString() : null);

            assertThrows(
                    LinkTimeoutException.class,
                    () -> client(link).number(":MEAS:CURR?", "A"),
                    "seed " + seed + ", round " + round + ": " + (int) bad + " at " + at);
        }
    }

    @Test
    void anyCuttingOfTheBytesGivesTheSameReply() throws Exception {
        for (int chunk = 1; chunk < 30; chunk++) {
            ScpiScriptLink link = new ScpiScriptLink(
                    line -> line.equals("B?\n") ? "#15\n1\r2\n\n" : " \0MAKER,LOAD,\"a b\",1.0 \r\n");
            link.chunk = chunk;
            ScpiClient client = client(link);

            assertEquals("MAKER,LOAD,\"a b\",1.0", client.identify());
            assertArrayEquals(new byte[] {10, '1', 13, '2', 10}, client.block("B?"));
            assertEquals("MAKER,LOAD,\"a b\",1.0", client.identify());
            assertEquals(0, client.resyncs());
        }
    }
}

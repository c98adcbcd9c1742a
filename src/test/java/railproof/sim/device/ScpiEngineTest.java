package railproof.sim.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ScpiEngineTest {
    private static final String CURRENT = "[SOURce]:CURRent[:LEVel][:IMMediate][:AMPLitude]";

    private final ScpiStatus status = new ScpiStatus();
    private final StringBuilder replies = new StringBuilder();
    private final List<String> done = new ArrayList<>();
    private final ScpiEngine engine = new ScpiEngine(status, "MAKER,MODEL,0,1", () -> done.add("reset"), () -> {});

    ScpiEngineTest() {
        status.clear();
        ScpiParameters.Range range = new ScpiParameters.Range(0, 30, "A");
        engine.on(CURRENT, parameters -> done.add("current " + parameters.number(range)));
        engine.onQuery(CURRENT, parameters -> parameters.none() ? "1.5" : String.valueOf(parameters.number(range)));
        engine.on("INPut[:STATe]", parameters -> done.add("input " + parameters.onOff()));
        engine.onQuery("INPut[:STATe]", parameters -> "0");
        engine.on(
                "SYSTem:RATE",
                parameters -> done.add("rate " + parameters.number(new ScpiParameters.Range(0, 1e9, "HZ"))));
    }

    private String send(String text) {
        replies.setLength(0);
        engine.receive(
                text.getBytes(StandardCharsets.ISO_8859_1),
                bytes -> replies.append(new String(bytes, StandardCharsets.US_ASCII)));
        return replies.toString();
    }

    private String errorAfter(String text) {
        send(text);
        String error = send("SYST:ERR?\n");
        return error.substring(0, error.indexOf(','));
    }

    /** Short and long form, case, optional nodes, leading colon: SCPI-1999 volume 1, 6.2 (from memory). */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "CURR?", ":CURR?", "current?", ":Curr?", "SOUR:CURR?", ":SOURce:CURRent:LEVel:IMMediate:AMPLitude?",
                "CURR:LEV?", "CURR:AMPL?", "SOUR:CURR:IMM?", "  curr?  ", "CURR1?", "CURR?\r"
            })
    void takesEveryFormOfAHeader(String header) {
        assertEquals("1.5\n", send(header + "\n"));
    }

    @ParameterizedTest
    @CsvSource({
        "CUR?, -113", "CURRE?, -113", "CURRENTS?, -113", "SOUR?, -113", "LEV?, -113", "CURR:SOUR?, -113",
        "CURR2?, -114", "IDN?, -113", "*XYZ, -113", "INP:STAT:STAT ON, -113", "::CURR?, -102", "CURR:?, -102",
        "INP, -109", "*ESE, -109", "*CLS 1, -108", "*IDN? 12, -108", "'CURR 1,2', -108", "'CURR 1,', -103",
        "CURR abc, -104", "CURR 1V, -131", "*ESE 1A, -138", "CURR 31, -222", "CURR -1, -222", "INP MAYBE, -104",
        "'CURR 1.2.3', -104", "*ESE #HXY, -104"
    })
    void saysWhatIsWrongByTheStandardsNumbers(String line, String code) {
        assertEquals(code, errorAfter(line + "\n"));
        assertEquals(List.of(), done);
    }

    /** IEEE 488.2, 7.7.2 to 7.7.4; the prefixes of table 7-2: M is milli, but mega in MOHM and MHZ. */
    @ParameterizedTest
    @CsvSource({
        "1, 1.0",
        "1.5, 1.5",
        ".5, 0.5",
        "15E-1, 1.5",
        "1.5e0 A, 1.5",
        "1500MA, 1.5",
        "1500 ma, 1.5",
        "+2, 2.0",
        "MIN, 0.0",
        "maximum, 30.0",
        "#H1E, 30.0",
        "#B101, 5.0",
        "#q17, 15.0"
    })
    void takesEveryFormOfANumber(String text, String value) {
        send("CURR " + text + "\n");

        assertEquals(List.of("current " + value), done);
    }

    @Test
    void megahertzAreNotMillihertz() {
        send("SYST:RATE 2 MHZ\n");

        assertEquals(List.of("rate 2000000.0"), done);
    }

    @Test
    void answersWhatALevelCouldBe() {
        assertEquals("30.0\n", send("CURR? MAX\n"));
    }

    /** SCPI-1999 volume 1, 6.2.4 (from memory): a unit goes on where the one before stood; a colon goes to the root. */
    @Test
    void goesOnInTheTreeAfterASemicolon() {
        send("SOUR:CURR:LEV 1;LEV 2;:CURR 3;INP ON\n");

        assertEquals(List.of("current 1.0", "current 2.0", "current 3.0", "input true"), done);
    }

    @Test
    void aCommonCommandDoesNotMoveInTheTree() {
        send("SOUR:CURR:LEV 1;*OPC;LEV 2\n");

        assertEquals(List.of("current 1.0", "current 2.0"), done);
    }

    @Test
    void joinsTheAnswersOfOneLine() {
        assertEquals("1.5;0;1\n", send("CURR?;:INP?;*OPC?\n"));
    }

    /** -440: IEEE 488.2, 6.5.7.5: nothing can be asked after a reply of arbitrary text. */
    @Test
    void nothingCanBeAskedAfterTheIdentityInOneLine() {
        assertEquals("MAKER,MODEL,0,1\n", send("*IDN?;CURR?\n"));
        assertTrue(send("SYST:ERR?\n").startsWith("-440,"));
    }

    @Test
    void aCommandErrorEndsTheLineAndAnExecutionErrorDoesNot() {
        send("CURR 1;CURX 2;CURR 3\n");
        assertEquals(List.of("current 1.0"), done);
        send("CURR 99;CURR 3\n");
        assertEquals(List.of("current 1.0", "current 3.0"), done);
    }

    /**
     * The register values that an independent SCPI parser's public test suite expects of the same dialogue
     * (libscpi, test_parser.c, testIEEE4882): enable bit 5, make one command error, read status byte and registers.
     */
    @Test
    void reportsStatusLikeAnotherImplementation() {
        send("*CLS\n*ESE #H20\n");
        assertEquals("32\n", send("*ESE?\n"));
        assertEquals("0\n", send("*ESR?\n"));
        send("*OPC\n");
        assertEquals("1\n", send("*OPC?\n"));
        send("*SRE #HFF\n");
        assertEquals("0\n", send("*STB?\n"));
        assertEquals("1\n", send("*ESR?\n"));
        send("ABCD\n");
        assertEquals("100\n", send("*STB?\n"));
        assertEquals("32\n", send("*ESR?\n"));
        assertEquals("68\n", send("*STB?\n"));
        assertEquals("-113,\"Undefined header\"\n", send("SYST:ERR:NEXT?\n"));
        assertEquals("0,\"No error\"\n", send("SYST:ERR:NEXT?\n"));
        assertEquals("0\n", send("*STB?\n"));
        assertEquals("1999.0\n", send("SYSTem:VERSion?\n"));
        assertEquals("0\n", send("*TST?\n"));
    }

    /** SCPI-1999 volume 2, 21.8.1 (from memory): the oldest stay, the newest place becomes -350. */
    @Test
    void aFullErrorQueueKeepsTheOldestAndSaysThatMoreCame() {
        send("*ESE 1A\n");
        for (int i = 0; i < 30; i++) {
            send("ABCD\n");
        }
        List<String> errors = new ArrayList<>();
        for (int i = 0; i < ScpiStatus.QUEUE_LENGTH; i++) {
            errors.add(send("SYST:ERR?\n"));
        }
        assertEquals("-138,\"Suffix not allowed\"\n", errors.get(0));
        assertEquals("-113,\"Undefined header\"\n", errors.get(ScpiStatus.QUEUE_LENGTH - 2));
        assertEquals("-350,\"Queue overflow\"\n", errors.get(ScpiStatus.QUEUE_LENGTH - 1));
        assertEquals("0,\"No error\"\n", send("SYST:ERR?\n"));
    }

    @Test
    void clearsTheQueueWhenTold() {
        send("ABCD\n*CLS\n");

        assertEquals("0,\"No error\"\n", send("SYST:ERR?\n"));
        assertEquals("0\n", send("*ESR?\n"));
    }

    @Test
    void aLineTooLongForTheBufferIsRefusedAsAWhole() {
        assertEquals("-363", errorAfter("CURR " + "1".repeat(400) + "\n"));
        assertEquals(List.of(), done);
        assertEquals("1.5\n", send("CURR?\n"));
    }

    @Test
    void separatorsInsideQuotesSeparateNothing() {
        assertEquals("-104", errorAfter("CURR \"1;*RST,2\"\n"));
        assertFalse(done.contains("reset"));
    }

    @Test
    void anyCuttingOfTheBytesGivesTheSameReplies() {
        String dialogue = "*CLS\r\nCURR 1;LEV?\nCURR 2;:INP ON;*OPC?\n\n\nSYST:ERR?;:CURR? MAX\nABC\n*STB?\n";
        String whole = send(dialogue);
        List<String> wholeDone = List.copyOf(done);
        Random random = new Random(7);
        for (int round = 0; round < 50; round++) {
            done.clear();
            StringBuilder cut = new StringBuilder();
            for (int at = 0; at < dialogue.length(); ) {
                int end = Math.min(dialogue.length(), at + 1 + random.nextInt(5));
                cut.append(send(dialogue.substring(at, end)));
                at = end;
            }
            assertEquals(whole, cut.toString(), "seed 7, round " + round);
            assertEquals(wholeDone, done, "seed 7, round " + round);
        }
    }

    @Test
    void noiseNeverBreaksTheParser() {
        long seed = 42;
        Random random = new Random(seed);
        for (int round = 0; round < 2000; round++) {
            byte[] noise = new byte[random.nextInt(40)];
            random.nextBytes(noise);
            engine.receive(noise, bytes -> {});
        }
        send("\n*CLS\n");
        assertEquals("1.5\n", send("CURR?\n"), "seed " + seed);
    }
}

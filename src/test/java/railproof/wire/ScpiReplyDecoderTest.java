package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.wire.ScpiReplyDecoder.State;

class ScpiReplyDecoderTest {
    private final ScpiReplyDecoder decoder = new ScpiReplyDecoder();

    private State feed(String text) {
        State state = State.MORE;
        for (byte b : text.getBytes(StandardCharsets.ISO_8859_1)) {
            assertEquals(State.MORE, state, "nothing is fed behind the end");
            state = decoder.accept(b & 0xFF);
        }
        return state;
    }

    @ParameterizedTest
    @ValueSource(strings = {"1.5\n", "1.5\r", "\r\n1.5\n", " 1.5  \n", "\0\0" + "1.5\0\n", "\n\n1.5\n", "1.5\t\n"})
    void takesEveryEndOfLineAndDropsBlanksAndNuls(String bytes) {
        assertEquals(State.TEXT, feed(bytes));
        assertEquals("1.5", decoder.text());
    }

    /** IEEE 488.2, 8.7.9: #, number of digits, length, then exactly that many bytes, whatever they are. */
    @Test
    void takesABlockWithLineEndsInside() {
        assertEquals(State.BLOCK, feed("#15a\nb\r#\n"));
        assertArrayEquals("a\nb\r#".getBytes(StandardCharsets.US_ASCII), decoder.block());
    }

    @Test
    void takesABlockWithLeadingZerosInItsLength() {
        assertEquals(State.BLOCK, feed("#3002\0\n\n"));
        assertArrayEquals(new byte[] {0, 10}, decoder.block());
    }

    @Test
    void takesAnEmptyBlock() {
        assertEquals(State.BLOCK, feed("#10\n"));
        assertEquals(0, decoder.block().length);
    }

    @Test
    void refusesAnIndefiniteBlock() {
        assertEquals(State.BAD, feed("#0"));
        assertTrue(decoder.trouble().contains("indefinite"), decoder.trouble());
    }

    @ParameterizedTest
    @ValueSource(strings = {"#1x", "#99999999", "#12abc", "#71048577"})
    void refusesABlockThatContradictsItself(String bytes) {
        assertEquals(State.BAD, feed(bytes));
    }

    @Test
    void aHexNumberIsNoBlock() {
        assertEquals(State.TEXT, feed("#HFF\n"));
        assertEquals("#HFF", decoder.text());
    }

    @ParameterizedTest
    @ValueSource(strings = {"1.\u00B5", "1\u0007", "\u00FF", "1.2\u007F"})
    void refusesBytesThatAreNoText(String bytes) {
        assertEquals(State.BAD, feed(bytes));
    }

    @Test
    void refusesALineWithoutEnd() {
        assertEquals(State.BAD, feed("7".repeat(ScpiReplyDecoder.MAX_TEXT + 1)));
    }
}

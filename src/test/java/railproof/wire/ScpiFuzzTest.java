package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import railproof.Mutator;

/** Whatever a device answers, the program ends up with a value, with nothing, or with words; it never hangs on it. */
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class ScpiFuzzTest {
    private static final long SEED = Long.getLong("railproof.fuzz.seed", 20_261_125);
    private static final String[] WORDS = {
        "#", "#0", "#9", "\n", "\r", "\u0000", "9.9E37", "-", "+", "E", ",", "\"", ";", "NAN", "ON", "999999", "\u00ff"
    };

    @Test
    void anyReplyIsTakenApartOrRefused() throws Exception {
        new Mutator("scpi", SEED, WORDS).feed(20_000, ScpiFuzzTest::takeApart);
    }

    @Test
    @Tag("slow")
    void eightHundredThousandRepliesAreTakenApartOrRefused() throws Exception {
        new Mutator("scpi", SEED + 1, WORDS).feed(800_000, ScpiFuzzTest::takeApart);
    }

    @Test
    void aClientGetsPastAnyReply() throws Exception {
        new Mutator("scpi", SEED + 2, WORDS).feed(500, ScpiFuzzTest::converse);
    }

    @Test
    @Tag("slow")
    void aClientGetsPastFiftyThousandReplies() throws Exception {
        new Mutator("scpi", SEED + 3, WORDS).feed(50_000, ScpiFuzzTest::converse);
    }

    private static void takeApart(byte[] reply) {
        ScpiReplyDecoder decoder = new ScpiReplyDecoder();
        for (byte b : reply) {
            if (decoder.accept(b & 0xFF) != ScpiReplyDecoder.State.MORE) {
                break;
            }
        }
        String text = decoder.text();
        assertTrue(text.length() <= ScpiReplyDecoder.MAX_TEXT + 1);
        assertTrue(decoder.block().length <= ScpiReplyDecoder.MAX_BLOCK);
        assertTrue(decoder.trouble().length() < 2 * ScpiReplyDecoder.MAX_TEXT);
        ScpiNumber.parse(text, "V")
                .ifPresent(number -> number.ifPresent(value -> assertTrue(Math.abs(value) < 9.9e37, text)));
        ScpiError.parse(text).ifPresent(error -> assertTrue(!error.describe().isEmpty(), text));
    }

    /** The device is in order but for its answer to one query. */
    private static void converse(byte[] reply) throws InterruptedException {
        String text = new String(reply, StandardCharsets.ISO_8859_1);
        ScpiScriptLink link = ScpiScriptLink.orderly(line -> line.endsWith("?\n") ? text : null);
        ScpiClient client = new ScpiClient(link, ScpiSettings.STANDARD);
        try {
            client.number(":MEAS:CURR?", "A").ifPresent(value -> assertTrue(Double.isFinite(value), text));
        } catch (LinkException e) {
            assertTrue(String.valueOf(e.getMessage()).length() < 10_000, text);
        }
        // three tries and the way back into step: never longer than a person would wait
        assertTrue(link.clock.nowNs() < 60_000_000_000L, "took " + link.clock.nowNs() + " ns");
    }
}

package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ScpiErrorTest {
    @Test
    void readsNumberAndWords() {
        ScpiError error = ScpiError.parse("-222,\"Data out of range; CURR\"").orElseThrow();

        assertEquals(-222, error.code());
        assertEquals("Data out of range; CURR", error.text());
        assertTrue(error.describe().contains("-222,\"Data out of range; CURR\""), error.describe());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {"0,\"No error\"|0", "+0,\"No error\"|0", "0|0", "-113, Undefined|-113"})
    void goesByTheNumberBecauseWordsDiffer(String reply, int code) {
        assertEquals(Optional.of(code), ScpiError.parse(reply).map(ScpiError::code));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "No error", "0,\"No err", "99999,\"x\"", "0\"No error\"", "-,\"x\"", "0;\"No error\""})
    void refusesWhatIsNoQueueEntry(String reply) {
        assertEquals(Optional.empty(), ScpiError.parse(reply));
    }

    /** Error numbers and names: SCPI-1999 volume 2, 21.8. */
    @ParameterizedTest
    @CsvSource({
        "-113, DIALECT_WRONG",
        "-108, DIALECT_WRONG",
        "-109, DIALECT_WRONG",
        "-201, DIALECT_WRONG",
        "-222, PLAN_WRONG",
        "-221, PLAN_WRONG",
        "-224, PLAN_WRONG",
        "-363, LINK_TROUBLE",
        "-360, LINK_TROUBLE",
        "-410, LINK_TROUBLE",
        "-440, LINK_TROUBLE",
        "-240, DEVICE_FAULT",
        "-241, DEVICE_FAULT",
        "-310, DEVICE_FAULT",
        "-350, DEVICE_FAULT",
        "201, DEVICE_FAULT",
        "-500, DEVICE_FAULT",
        "-800, NOTICE",
        "-600, NOTICE"
    })
    void sortsByWhatTheHostMustDo(int code, ScpiErrorKind kind) {
        assertEquals(kind, new ScpiError(code, "").kind());
    }
}

package railproof.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.List;
import org.junit.jupiter.api.Test;
import railproof.app.RigCheck;
import railproof.wire.serial.SerialPortInfo;

/** What scripts read, through another reader of the same library. */
class ListJsonTest {
    @Test
    void portsKeepEveryField() throws Exception {
        String text = ListJson.ports(List.of(new SerialPortInfo(
                "ttyACM0", "/dev/ttyACM0", "Board \"A\"", 0x1209, 1, "0012", List.of("/dev/serial/by-id/board"))));

        JsonNode port = new JsonMapper().readTree(text).get(0);
        assertEquals("/dev/ttyACM0", port.get("path").asText());
        assertEquals("Board \"A\"", port.get("description").asText());
        assertEquals(0x1209, port.get("vendor_id").asInt());
        assertEquals("/dev/serial/by-id/board", port.get("stable_paths").get(0).asText());
        assertTrue(text.endsWith("]\n"), text);
    }

    @Test
    void findingsKeepTheirOrder() throws Exception {
        JsonNode list = new JsonMapper()
                .readTree(ListJson.findings(List.of(
                        new RigCheck.Finding("board", true, "answers"),
                        new RigCheck.Finding("load", false, "silent"))));

        assertEquals("board", list.get(0).get("what").asText());
        assertTrue(list.get(0).get("good").asBoolean());
        assertEquals("silent", list.get(1).get("found").asText());
    }
}

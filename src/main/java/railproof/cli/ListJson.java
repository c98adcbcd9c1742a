package railproof.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import railproof.app.RigCheck;
import railproof.wire.serial.SerialPortInfo;

/** Lists for scripts: the serial ports, and the findings of a rig check. Pure. */
final class ListJson {
    private static final JsonMapper MAPPER = JsonMapper.builder().build();

    private ListJson() {}

    static String ports(List<SerialPortInfo> ports) {
        ArrayNode list = MAPPER.createArrayNode();
        for (SerialPortInfo port : ports) {
            ObjectNode node = list.addObject()
                    .put("path", port.path())
                    .put("system_name", port.systemName())
                    .put("description", port.description())
                    .put("vendor_id", port.vendorId())
                    .put("product_id", port.productId())
                    .put("serial_number", port.serialNumber());
            ArrayNode stable = node.putArray("stable_paths");
            port.stablePaths().forEach(stable::add);
        }
        return text(list);
    }

    static String findings(List<RigCheck.Finding> findings) {
        ArrayNode list = MAPPER.createArrayNode();
        for (RigCheck.Finding finding : findings) {
            list.addObject()
                    .put("what", finding.what())
                    .put("good", finding.good())
                    .put("found", finding.found());
        }
        return text(list);
    }

    private static String text(ArrayNode list) {
        try {
            return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(list) + "\n";
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a tree of texts and numbers can always be written", e);
        }
    }
}

package railproof.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import railproof.wire.serial.SerialPortInfo;

/** The list of ports for scripts. */
final class PortJson {
    private static final JsonMapper MAPPER = JsonMapper.builder().build();

    private PortJson() {}

    static String write(List<SerialPortInfo> ports) {
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
        try {
            return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(list) + "\n";
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a tree of texts and numbers can always be written", e);
        }
    }
}

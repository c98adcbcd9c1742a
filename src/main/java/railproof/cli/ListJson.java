package railproof.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Map;
import railproof.app.RigCheck;
import railproof.app.SignOffService;
import railproof.seal.Verification;
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

    static String verifications(Map<String, Verification> found) {
        ArrayNode list = MAPPER.createArrayNode();
        found.forEach((name, verification) -> {
            ObjectNode node = list.addObject()
                    .put("name", name)
                    .put("state", verification.state().name().toLowerCase(java.util.Locale.ROOT));
            ArrayNode findings = node.putArray("findings");
            verification.findings().forEach(finding -> findings.addObject()
                    .put("file", finding.file())
                    .put("found", finding.words()));
            ArrayNode notes = node.putArray("notes");
            verification.notes().forEach(notes::add);
            verification.seal().ifPresent(seal -> node.putObject("seal")
                    .put("number", seal.number())
                    .put("run_id", seal.runId())
                    .put("unit_serial", seal.unitSerial())
                    .put("sealed_at", seal.sealedAt().toString())
                    .put("record_sha256", seal.recordDigest())
                    .put("public_key", seal.publicKey()));
        });
        return text(list);
    }

    static String signOff(SignOffService.Result result) {
        ObjectNode node = MAPPER.createObjectNode()
                .put("signed_off", result.refusals().isEmpty())
                .put("by", result.signOff().by())
                .put("at", result.signOff().at().toString())
                .put("training", result.signOff().training());
        ArrayNode refusals = node.putArray("refusals");
        result.refusals().forEach(refusals::add);
        return text(node);
    }

    static String text(JsonNode node) {
        try {
            return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(node) + "\n";
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a tree of texts and numbers can always be written", e);
        }
    }
}

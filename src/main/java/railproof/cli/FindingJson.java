package railproof.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import java.util.List;
import railproof.app.RigCheck;

/** The findings of a rig check for scripts. */
final class FindingJson {
    private static final JsonMapper MAPPER = JsonMapper.builder().build();

    private FindingJson() {}

    static String write(List<RigCheck.Finding> findings) {
        ArrayNode list = MAPPER.createArrayNode();
        for (RigCheck.Finding finding : findings) {
            list.addObject()
                    .put("what", finding.what())
                    .put("good", finding.good())
                    .put("found", finding.found());
        }
        try {
            return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(list) + "\n";
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a tree of texts can always be written", e);
        }
    }
}

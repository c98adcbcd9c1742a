package railproof.record;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectWriter;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import railproof.base.Problem;

/** JSON to and from text; reading keeps the place of every value, so that a problem can be pointed at. */
final class Json {
    /** Deepest nesting, longest name, number and text of a record, characters; far beyond anything it needs. */
    private static final int MAX_DEPTH = 32;

    private static final int MAX_NAME = 200;
    private static final int MAX_NUMBER = 60;
    private static final int MAX_TEXT = 1 << 20;

    private static final JsonMapper MAPPER = JsonMapper.builder(JsonFactory.builder()
                    .streamReadConstraints(StreamReadConstraints.builder()
                            .maxNestingDepth(MAX_DEPTH)
                            .maxNameLength(MAX_NAME)
                            .maxNumberLength(MAX_NUMBER)
                            .maxStringLength(MAX_TEXT)
                            .build())
                    .build())
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .build();
    private static final ObjectWriter PAGE = MAPPER.writer(new DefaultPrettyPrinter()
            .withObjectIndenter(new DefaultIndenter("  ", "\n"))
            .withArrayIndenter(new DefaultIndenter("  ", "\n")));

    private Json() {}

    static ObjectNode object() {
        return JsonNodeFactory.instance.objectNode();
    }

    static ArrayNode texts(List<String> texts) {
        ArrayNode array = JsonNodeFactory.instance.arrayNode();
        texts.forEach(array::add);
        return array;
    }

    /** On one line, without its end. */
    static String line(JsonNode node) {
        try {
            return MAPPER.writeValueAsString(node);
        } catch (JsonProcessingException e) {
            throw new UncheckedIOException("a JSON tree could not be written", e);
        }
    }

    /** Indented, with a last line end. */
    static String page(JsonNode node) {
        try {
            return PAGE.writeValueAsString(node) + "\n";
        } catch (JsonProcessingException e) {
            throw new UncheckedIOException("a JSON tree could not be written", e);
        }
    }

    /**
     * Reads one object.
     *
     * @param file how problems name the file
     * @param firstLine 1-based line of the text's start in the file
     * @param problems what is wrong is added here
     * @return empty if the text is no JSON object
     */
    static Optional<JsonView> parse(String file, int firstLine, String text, List<Problem> problems) {
        try (JsonParser parser = MAPPER.createParser(text)) {
            Map<String, Problem> places = new HashMap<>();
            JsonToken start = parser.nextToken();
            if (start != JsonToken.START_OBJECT) {
                problems.add(new Problem(file, firstLine, 1, "", "a JSON object { ... } is needed here"));
                return Optional.empty();
            }
            JsonNode root = node(parser, "", new Places(file, firstLine, places));
            if (parser.nextToken() != null) {
                problems.add(
                        place(file, firstLine, parser.currentTokenLocation(), "", "nothing may follow the object"));
                return Optional.empty();
            }
            return Optional.of(new JsonView(root, "", file, places, problems));
        } catch (JsonProcessingException e) {
            JsonLocation at = e.getLocation() == null ? JsonLocation.NA : e.getLocation();
            problems.add(place(file, firstLine, at, "", "not valid JSON: " + e.getOriginalMessage()));
            return Optional.empty();
        } catch (IOException e) {
            throw new UncheckedIOException("text in memory could not be read", e);
        }
    }

    private record Places(String file, int firstLine, Map<String, Problem> byKey) {}

    private static JsonNode node(JsonParser parser, String key, Places places) throws IOException {
        places.byKey().put(key, place(places.file(), places.firstLine(), parser.currentTokenLocation(), key, ""));
        if (parser.currentToken() == JsonToken.START_OBJECT) {
            ObjectNode object = object();
            while (parser.nextToken() == JsonToken.FIELD_NAME) {
                String name = parser.currentName();
                parser.nextToken();
                object.set(name, node(parser, key.isEmpty() ? name : key + "." + name, places));
            }
            return object;
        }
        if (parser.currentToken() == JsonToken.START_ARRAY) {
            ArrayNode array = JsonNodeFactory.instance.arrayNode();
            while (parser.nextToken() != JsonToken.END_ARRAY) {
                array.add(node(parser, key + "[" + array.size() + "]", places));
            }
            return array;
        }
        return MAPPER.readTree(parser);
    }

    private static Problem place(String file, int firstLine, JsonLocation at, String key, String message) {
        int line = at.getLineNr() > 0 ? firstLine + at.getLineNr() - 1 : firstLine;
        return new Problem(file, line, Math.max(0, at.getColumnNr()), key, message);
    }
}

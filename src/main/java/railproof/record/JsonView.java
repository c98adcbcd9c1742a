package railproof.record;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.Supplier;
import railproof.base.Problem;

/**
 * A JSON object being read. Every getter answers something usable; what was wrong is added to the problems with its
 * place, so that one reading finds them all. Whoever reads must look at the problems before using the values.
 */
final class JsonView {
    private final JsonNode node;
    private final String prefix;
    private final String file;
    private final Map<String, Problem> places;
    private final List<Problem> problems;

    JsonView(JsonNode node, String prefix, String file, Map<String, Problem> places, List<Problem> problems) {
        this.node = node;
        this.prefix = prefix;
        this.file = file;
        this.places = places;
        this.problems = problems;
    }

    /** Whether the key is there and not null. */
    boolean has(String key) {
        return node.hasNonNull(key);
    }

    String text(String key) {
        return value(key, "text", JsonNode::isTextual).map(JsonNode::textValue).orElse("");
    }

    boolean flag(String key) {
        return value(key, "true or false", JsonNode::isBoolean)
                .map(JsonNode::booleanValue)
                .orElse(false);
    }

    double number(String key) {
        return value(key, "a number", JsonNode::isNumber)
                .map(JsonNode::doubleValue)
                .orElse(0.0);
    }

    /** A number, or {@code fallback} if the key is absent or null. */
    double numberOr(String key, double fallback) {
        return has(key) ? number(key) : fallback;
    }

    int count(String key) {
        return value(key, "a whole number from 0 on", n -> n.isInt() && n.intValue() >= 0)
                .map(JsonNode::intValue)
                .orElse(0);
    }

    List<String> texts(String key) {
        List<String> texts = new ArrayList<>();
        for (JsonNode item : array(key)) {
            if (item.isTextual()) {
                texts.add(item.textValue());
            } else {
                bad(key + "[" + texts.size() + "]", "must be text, found " + item);
                texts.add("");
            }
        }
        return texts;
    }

    /** The object under the key; an empty one if there is none, whose own gaps are then no further problems. */
    JsonView object(String key) {
        return value(key, "an object { ... }", JsonNode::isObject)
                .map(child -> new JsonView(child, path(key), file, places, problems))
                .orElseGet(() -> new JsonView(Json.object(), path(key), file, places, new ArrayList<>()));
    }

    List<JsonView> objects(String key) {
        List<JsonView> objects = new ArrayList<>();
        List<JsonNode> items = array(key);
        for (int i = 0; i < items.size(); i++) {
            JsonNode item = items.get(i);
            String name = key + "[" + i + "]";
            if (!item.isObject()) {
                bad(name, "must be an object { ... }, found " + item);
                continue;
            }
            objects.add(new JsonView(item, path(name), file, places, problems));
        }
        return objects;
    }

    /**
     * Text that stands for something.
     *
     * @param allowed what is allowed, in words
     */
    <T> T parsed(String key, Function<String, Optional<T>> parser, String allowed, T fallback) {
        Optional<String> text =
                value(key, "text: " + allowed, JsonNode::isTextual).map(JsonNode::textValue);
        if (text.isEmpty()) {
            return fallback;
        }
        return parser.apply(text.get()).orElseGet(() -> {
            bad(key, "must be " + allowed + ", found \"" + text.get() + "\"");
            return fallback;
        });
    }

    /** Builds a checked value; what its constructor refuses becomes a problem at this object. */
    <T> T built(Supplier<T> builder, T fallback) {
        try {
            return builder.get();
        } catch (IllegalArgumentException e) {
            problem(prefix, String.valueOf(e.getMessage()));
            return fallback;
        }
    }

    /** Adds a problem at a key of this object. */
    void bad(String key, String message) {
        problem(path(key), message);
    }

    private List<JsonNode> array(String key) {
        List<JsonNode> items = new ArrayList<>();
        value(key, "a list [ ... ]", JsonNode::isArray).ifPresent(array -> array.forEach(items::add));
        return items;
    }

    private Optional<JsonNode> value(String key, String allowed, Predicate<JsonNode> fits) {
        JsonNode found = node.get(key);
        if (found == null) {
            bad(key, "is missing; needed: " + allowed);
            return Optional.empty();
        }
        if (!fits.test(found)) {
            bad(key, "must be " + allowed + ", found " + found);
            return Optional.empty();
        }
        return Optional.of(found);
    }

    private String path(String key) {
        return prefix.isEmpty() ? key : prefix + "." + key;
    }

    private void problem(String path, String message) {
        Problem own = new Problem(file, 0, 0, "", "");
        Problem place = places.getOrDefault(path, places.getOrDefault(prefix, own));
        problems.add(new Problem(file, place.line(), place.column(), path, message));
    }
}

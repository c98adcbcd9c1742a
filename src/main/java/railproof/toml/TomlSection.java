package railproof.toml;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.tomlj.TomlArray;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;

/**
 * One table of a document, read key by key. Every read names what is allowed. A read that fails notes a problem and
 * returns a harmless stand-in from the allowed range, so that reading can go on and find the other problems; the
 * stand-ins never get out, because {@link TomlDocument#finish} throws.
 *
 * <p>Keys are shown dotted; elements of a list count from 1, as people do.
 *
 * <p>Thread: confined to the reader.
 */
public final class TomlSection {
    private static final int LONGEST_TEXT = 1_000;

    private final TomlDocument document;
    private final TomlTable table;
    private final String path;
    private final int line;
    private final int column;
    private final Set<String> known = new LinkedHashSet<>();
    private final Set<String> bad = new HashSet<>();

    TomlSection(TomlDocument document, TomlTable table, String path, int line, int column) {
        this.document = document;
        this.table = table;
        this.path = path;
        this.line = line;
        this.column = column;
        document.register(this);
    }

    /** Whether the key is there, with whatever value. */
    public boolean has(String key) {
        known.add(key);
        return value(key) != null;
    }

    /** Whether none of these keys has a problem so far; a check that compares values asks first. */
    public boolean good(String... keys) {
        return Set.of(keys).stream().noneMatch(bad::contains);
    }

    /** Notes that the value of a key is wrong; the position is the key's, or this table's if the key is not there. */
    public void problem(String key, String message) {
        bad.add(key);
        @Nullable TomlPosition at = value(key) == null ? null : table.inputPositionOf(List.of(key));
        document.problem(at == null ? line : at.line(), at == null ? column : at.column(), pathOf(key), message);
    }

    /** Notes that this table as a whole is wrong. */
    public void problem(String message) {
        document.problem(line, column, path, message);
    }

    /** These keys may be here, unread: what they mean depends on a value that is itself wrong. */
    public void mayHave(String... keys) {
        known.addAll(List.of(keys));
    }

    /** A required text, not blank, on one line, at most {@value #LONGEST_TEXT} characters. */
    public String text(String key) {
        return optionalText(key).orElseGet(() -> missing(key, "a text", "?"));
    }

    /** A text that may be left out; may not be blank. */
    public Optional<String> optionalText(String key) {
        return optionalEmptyText(key).filter(text -> {
            if (text.isBlank()) {
                problem(key, "must not be blank");
                return false;
            }
            return true;
        });
    }

    /** A text that may be left out and may be empty. */
    public Optional<String> optionalEmptyText(String key) {
        return convert(key, "a text", value -> value instanceof String text ? Optional.of(text) : Optional.empty())
                .filter(text -> {
                    String wrong = ScalarRules.wrongText(text, LONGEST_TEXT);
                    if (!wrong.isEmpty()) {
                        problem(key, wrong);
                    }
                    return wrong.isEmpty();
                });
    }

    /** A required number, ends of the range included; integers count as numbers, nan and inf do not. */
    public double number(String key, double low, double high) {
        return optionalNumber(key, low, high).orElseGet(() -> missing(key, "a number" + span(low, high), low));
    }

    /** A number with a default. */
    public double number(String key, double low, double high, double fallback) {
        return optionalNumber(key, low, high).orElse(fallback);
    }

    /** A number that may be left out. */
    public Optional<Double> optionalNumber(String key, double low, double high) {
        String wanted = "a number" + span(low, high);
        return convert(key, wanted, value -> ScalarRules.number(value, low, high));
    }

    /** A required whole number, ends of the range included. */
    public int integer(String key, int low, int high) {
        return optionalInteger(key, low, high).orElseGet(() -> missing(key, "a whole number" + span(low, high), low));
    }

    /** A whole number with a default. */
    public int integer(String key, int low, int high, int fallback) {
        return optionalInteger(key, low, high).orElse(fallback);
    }

    /** A whole number that may be left out. */
    public Optional<Integer> optionalInteger(String key, int low, int high) {
        return convert(key, "a whole number" + span(low, high), value -> ScalarRules.integer(value, low, high));
    }

    /** true or false, with a default. */
    public boolean flag(String key, boolean fallback) {
        return convert(
                        key,
                        "true or false",
                        value -> value instanceof Boolean flag ? Optional.of(flag) : Optional.empty())
                .orElse(fallback);
    }

    /** A duration with a default; the key ends in its unit: _us, _ms, _s, _min or _h. */
    public Duration duration(String key, Duration low, Duration high, Duration fallback) {
        return optionalDuration(key, low, high).orElse(fallback);
    }

    /** A duration that may be left out; the key ends in its unit. */
    public Optional<Duration> optionalDuration(String key, Duration low, Duration high) {
        double unitNs = ScalarRules.unitNs(key);
        return optionalNumber(key, low.toNanos() / unitNs, high.toNanos() / unitNs)
                .map(number -> Duration.ofNanos(Math.round(number * unitNs)));
    }

    /** A required choice by label. */
    public <T> T choice(String key, Map<String, T> choices) {
        return optionalChoice(key, choices)
                .orElseGet(() -> missing(
                        key,
                        "one of " + Wording.list(List.copyOf(choices.keySet())),
                        choices.values().iterator().next()));
    }

    /** A choice with a default. */
    public <T> T choice(String key, Map<String, T> choices, T fallback) {
        return optionalChoice(key, choices).orElse(fallback);
    }

    private <T> Optional<T> optionalChoice(String key, Map<String, T> choices) {
        List<String> labels = List.copyOf(choices.keySet());
        return optionalText(key).flatMap(label -> {
            Optional<T> chosen = Optional.ofNullable(choices.get(label));
            if (chosen.isEmpty()) {
                problem(
                        key,
                        Wording.quoted(label) + " is not one of " + Wording.list(labels)
                                + NearestName.hint(label, labels));
            }
            return chosen;
        });
    }

    /**
     * Something defined elsewhere in the file, by its name; empty if left out or if there is no such thing.
     *
     * @param what what it is, for the message: {@code link}
     */
    public <T> Optional<T> reference(String key, String what, Map<String, T> named) {
        return optionalText(key).flatMap(name -> {
            Optional<T> meant = Optional.ofNullable(named.get(name));
            if (meant.isEmpty()) {
                String near = NearestName.hint(name, named.keySet());
                String defined =
                        named.isEmpty() ? "none is defined" : "there are " + Wording.list(List.copyOf(named.keySet()));
                problem(
                        key,
                        "there is no " + what + " " + Wording.quoted(name) + (near.isEmpty() ? "; " + defined : near));
            }
            return meant;
        });
    }

    /** A required reference was left out. */
    public void missingReference(String key, String what) {
        missing(key, "the name of a " + what, what);
    }

    /** A list of numbers; empty if left out or wrong. */
    public List<Double> numbers(String key, double low, double high, int minCount, int maxCount) {
        return list(key, "a list of numbers", minCount, maxCount, (element, at) -> {
            Optional<Double> number = ScalarRules.number(element, low, high);
            if (number.isEmpty()) {
                at.accept("must be a number" + span(low, high) + "; found " + Wording.found(element));
            }
            return number;
        });
    }

    /** A list of whole numbers; empty if left out or wrong. */
    public List<Integer> integers(String key, int low, int high, int maxCount) {
        return list(key, "a list of whole numbers", 0, maxCount, (element, at) -> {
            Optional<Integer> number = ScalarRules.integer(element, low, high);
            if (number.isEmpty()) {
                at.accept("must be a whole number" + span(low, high) + "; found " + Wording.found(element));
            }
            return number;
        });
    }

    /** A list of texts; empty if left out or wrong. */
    public List<String> texts(String key, int maxCount) {
        return list(key, "a list of texts", 0, maxCount, (element, at) -> {
            String wrong = element instanceof String text
                    ? ScalarRules.wrongText(text, LONGEST_TEXT)
                    : "must be a text; found " + Wording.found(element);
            if (!wrong.isEmpty()) {
                at.accept(wrong);
            }
            return wrong.isEmpty() ? Optional.of((String) element) : Optional.empty();
        });
    }

    /** A table; if it is required and not there, that is a problem. */
    public Optional<TomlSection> table(String key, boolean required) {
        Optional<TomlSection> section = convert(
                key,
                "a table",
                value -> value instanceof TomlTable inner ? Optional.of(section(inner, key)) : Optional.empty());
        if (section.isEmpty() && required) {
            missing(key, "a table", key);
        }
        return section;
    }

    /** A table of named tables ({@code [links.board]}), in file order. */
    public Map<String, TomlSection> namedTables(String key, boolean required, int maxCount) {
        Map<String, TomlSection> named = new LinkedHashMap<>();
        table(key, required).ifPresent(outer -> {
            for (String name : outer.table.keySet()) {
                if (named.size() == maxCount) {
                    outer.known.addAll(outer.table.keySet());
                    problem(key, "more than " + maxCount + " entries");
                    break;
                }
                outer.table(name, true).ifPresent(inner -> named.put(name, inner));
            }
        });
        return named;
    }

    /** A list of tables ({@code [[rails]]}); empty if left out or wrong. */
    public List<TomlSection> tables(String key, int minCount, int maxCount) {
        int[] index = {0};
        return list(key, "a list of tables ([[" + key + "]])", minCount, maxCount, (element, at) -> {
            index[0]++;
            if (element instanceof TomlTable inner) {
                TomlPosition start = elementPosition(key, index[0] - 1);
                return Optional.of(new TomlSection(
                        document, inner, pathOf(key) + "[" + index[0] + "]", start.line(), start.column()));
            }
            at.accept("must be a table; found " + Wording.found(element));
            return Optional.empty();
        });
    }

    void reportUnknownKeys() {
        for (String key : table.keySet()) {
            if (!known.contains(key)) {
                String hint = NearestName.hint(key, known);
                problem(
                        key,
                        "unknown key"
                                + (hint.isEmpty() ? "; allowed here: " + Wording.list(List.copyOf(known)) : hint));
            }
        }
    }

    private <T> List<T> list(String key, String wanted, int minCount, int maxCount, ElementReader<T> element) {
        Optional<TomlArray> array =
                convert(key, wanted, value -> value instanceof TomlArray found ? Optional.of(found) : Optional.empty());
        if (array.isEmpty()) {
            if (minCount > 0) {
                missing(key, wanted, wanted);
            }
            return List.of();
        }
        int size = array.get().size();
        if (size < minCount || size > maxCount) {
            problem(key, "must have " + minCount + " to " + maxCount + " entries; found " + size);
            return List.of();
        }
        List<T> values = new ArrayList<>();
        for (int i = 0; i < size; i++) {
            int index = i;
            element.read(array.get().get(i), message -> {
                        bad.add(key);
                        TomlPosition at = elementPosition(key, index);
                        document.problem(at.line(), at.column(), pathOf(key) + "[" + (index + 1) + "]", message);
                    })
                    .ifPresent(values::add);
        }
        return values;
    }

    private TomlPosition elementPosition(String key, int index) {
        @Nullable Object array = value(key);
        return array instanceof TomlArray elements
                ? elements.inputPositionOf(index)
                : TomlPosition.positionAt(Math.max(1, line), Math.max(1, column));
    }

    private <T> Optional<T> convert(String key, String wanted, Function<Object, Optional<T>> conversion) {
        known.add(key);
        @Nullable Object value = value(key);
        if (value == null) {
            return Optional.empty();
        }
        Optional<T> converted = conversion.apply(value);
        if (converted.isEmpty()) {
            problem(key, "must be " + wanted + "; found " + Wording.found(value));
        }
        return converted;
    }

    private <T> T missing(String key, String wanted, T standIn) {
        if (!bad.contains(key)) {
            problem(key, "is missing; it must be " + wanted);
        }
        return standIn;
    }

    private @Nullable Object value(String key) {
        return table.get(List.of(key));
    }

    private TomlSection section(TomlTable inner, String key) {
        TomlPosition at = table.inputPositionOf(List.of(key));
        return new TomlSection(document, inner, pathOf(key), at.line(), at.column());
    }

    /** The whole dotted path of a key, as messages show it. */
    public String pathOf(String key) {
        return path.isEmpty() ? Wording.key(key) : path + "." + Wording.key(key);
    }

    private static String span(double low, double high) {
        return " from " + Wording.number(low) + " to " + Wording.number(high);
    }
}

package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import railproof.wire.Frame;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;
import railproof.wire.Noise;

/** What the protocol page says in tables and numbers, against the machine-readable tables and both implementations. */
class ProtocolPageTest {
    private static final Path FOLDER = Path.of("firmware-protocol");
    private static final Path CORE = FOLDER.resolve(Path.of("firmware", "core"));
    private static final List<String> STATES = List.of("BOOT", "SAFE", "ARMED", "ACTIVE", "TRIPPED");
    private static final Set<String> REFUSED_FOR_STATE = Set.of("BAD_STATE", "NOT_ARMED", "FAULT_LATCHED");

    private static String page() throws IOException {
        return Files.readString(FOLDER.resolve("PROTOCOL.md"), StandardCharsets.UTF_8);
    }

    /** The cells of the rows of the first table after a text, without heading and rule. */
    private static List<List<String>> tableAfter(String text) throws IOException {
        String page = page();
        int from = page.indexOf(text);
        assertTrue(from >= 0, "the page does not say: " + text);
        List<List<String>> rows = new ArrayList<>();
        for (String line : page.substring(from).split("\n", -1)) {
            if (line.startsWith("|")) {
                rows.add(Arrays.stream(line.substring(1, line.length() - 1).split("\\|", -1))
                        .map(String::strip)
                        .toList());
            } else if (!rows.isEmpty()) {
                break;
            }
        }
        return rows.subList(2, rows.size());
    }

    @Test
    void everyTableOfFieldsIsThatOfTheMessageTableLetterByLetter() throws IOException {
        StringBuilder wanted = new StringBuilder();
        String last = "";
        for (CSVRecord row : MessageTableTest.rows()) {
            String message = row.get("id").substring(2).toUpperCase(Locale.ROOT) + " " + row.get("name");
            String part = message + " " + row.get("direction");
            if (!part.equals(last)) {
                wanted.append(part).append('\n');
                last = part;
            }
            wanted.append(row.get("field").isEmpty() ? "No payload." : line(row))
                    .append('\n');
        }

        StringBuilder seen = new StringBuilder();
        String message = "";
        for (String line : page().substring(page().indexOf("## 7.")).split("\n", -1)) {
            Matcher heading = Pattern.compile("### 0x(.*)").matcher(line);
            if (heading.matches()) {
                message = heading.group(1);
            } else if (List.of("Request:", "Response:", "Event:", "Data:").contains(line)) {
                String direction = line.substring(0, line.length() - 1).toLowerCase(Locale.ROOT);
                seen.append(message).append(' ').append(direction).append('\n');
            } else if (line.equals("No payload.")
                    || (line.startsWith("|") && !line.startsWith("| Byte") && !line.startsWith("|-"))) {
                seen.append(line).append('\n');
            } else if (line.startsWith("## 8")) {
                break;
            }
        }
        assertEquals(wanted.toString(), seen.toString());
    }

    private static String line(CSVRecord row) {
        String at =
                switch (row.get("repeat")) {
                    case "channel" -> "20+k·28+" + (Integer.parseInt(row.get("offset")) - 20);
                    case "sample" -> row.get("offset") + "+2j";
                    default -> row.get("offset");
                };
        String range = row.get("min").equals(row.get("max")) ? row.get("min") : row.get("min") + " … " + row.get("max");
        return String.join(
                        " | ",
                        "| " + at,
                        row.get("type"),
                        "`" + row.get("field") + "`",
                        row.get("unit"),
                        range,
                        row.get("reset"),
                        row.get("note"))
                .concat(" |");
    }

    @Test
    void theMatrixOfMessagesAndStatesIsThatOfTheTableOfStates() throws IOException {
        Map<String, List<String>> first = new LinkedHashMap<>();
        for (String line : Files.readAllLines(FOLDER.resolve("states.csv"))) {
            List<String> cells = List.of(line.split(",", -1));
            boolean plain = !cells.get(8).contains("another") && !cells.get(8).contains("is 2");
            String name = cells.get(1)
                    + (cells.get(1).equals("LOAD_ENABLE_SET") && plain
                            ? " " + cells.get(8).strip()
                            : "");
            if (!cells.get(0).equals("id") && plain) {
                first.putIfAbsent(name, cells.subList(3, 8));
            }
        }
        Set<String> stated = new HashSet<>();
        for (List<String> row : tableAfter("What is accepted where")) {
            String names = row.get(0).replaceAll("\\(.*", "");
            for (String name : names.split(",", -1)) {
                assertTrue(first.containsKey(name.strip()), "states.csv has no " + name);
                List<String> answers = first.getOrDefault(name.strip(), List.of());
                stated.add(name.strip().split(" ", -1)[0]);
                for (int state = 0; state < STATES.size(); state++) {
                    String cell = row.get(state + 1);
                    String answer = answers.get(state).split("@", -1)[0];
                    if (cell.startsWith("○")) {
                        assertFalse(answer.equals("ok"), name + " in " + STATES.get(state));
                    } else {
                        assertEquals(
                                cell.equals("–"),
                                REFUSED_FOR_STATE.contains(answer),
                                name + " in " + STATES.get(state) + ": page " + cell + ", table " + answer);
                    }
                }
            }
        }
        Set<String> requests = Arrays.stream(BoardMessage.values())
                .filter(m -> m.kinds().contains(FrameKind.REQUEST))
                .map(Enum::name)
                .collect(Collectors.toSet());
        assertEquals(requests, stated);
    }

    /** Names of an enumeration in a header, by number. */
    private static Map<Integer, String> enumeration(String header, String name, String prefix) throws IOException {
        String text = Files.readString(CORE.resolve(header));
        Matcher body = Pattern.compile("enum " + name + " \\{([^}]*)}").matcher(text);
        assertTrue(body.find(), header + " has no enum " + name);
        Map<Integer, String> names = new LinkedHashMap<>();
        int next = 0;
        for (String item : body.group(1).split(",", -1)) {
            String[] parts = item.strip().split("\\s*=\\s*", -1);
            if (!parts[0].isEmpty()) {
                next = parts.length > 1 ? Integer.decode(parts[1]) : next;
                names.put(next++, parts[0].replaceFirst("^" + prefix, ""));
            }
        }
        return names;
    }

    private static Map<Integer, String> numbered(List<List<String>> table) {
        Map<Integer, String> names = new LinkedHashMap<>();
        table.forEach(row -> names.put(Integer.valueOf(row.get(0)), row.get(1)));
        return names;
    }

    /** What a sentence lists as "0 NAME, 1 NAME (why)". */
    private static Map<Integer, String> listed(String start) throws IOException {
        Matcher sentence = Pattern.compile(Pattern.quote(start) + "([^\n]*)").matcher(page());
        assertTrue(sentence.find(), "the page does not say: " + start);
        Map<Integer, String> names = new LinkedHashMap<>();
        Matcher item = Pattern.compile("(?:^|[,;] )(\\d+) ([A-Z_]{3,})").matcher(sentence.group(1));
        while (item.find()) {
            names.put(Integer.valueOf(item.group(1)), item.group(2));
        }
        return names;
    }

    private static Map<Integer, String> ordinals(Enum<?>[] values) {
        Map<Integer, String> names = new LinkedHashMap<>();
        for (int number = 0; number < values.length; number++) {
            names.put(number, values[number].name());
        }
        return names;
    }

    @Test
    void errorsFaultsStatesAndReasonsAreTheSameOnThePageInJavaAndInC() throws IOException {
        Map<Integer, String> errors = numbered(tableAfter("**Error** (kind 3)"));
        Map<Integer, String> javaErrors = new LinkedHashMap<>();
        Arrays.stream(BoardErrorCode.values()).forEach(e -> javaErrors.put(e.code(), e.name()));
        assertEquals(errors, javaErrors);
        assertEquals(errors, enumeration("commands.h", "error", "ERROR_"));

        Map<Integer, String> faults = numbered(tableAfter("**Faults.**"));
        assertEquals(faults, ordinals(BoardFault.values()));
        Map<Integer, String> inC = enumeration("safety.h", "fault", "FAULT_");
        inC.values().removeAll(List.of("COUNT", "NONE"));
        assertEquals(faults, inC);

        Map<Integer, String> states = numbered(tableAfter("| Number | State |"));
        assertEquals(states, ordinals(BoardState.values()));
        assertEquals(states, enumeration("safety.h", "state", "STATE_"));

        List<String> reasons =
                tableAfter("| Reason | Rule |").stream().map(row -> row.get(0)).toList();
        assertEquals(
                Set.copyOf(reasons),
                Arrays.stream(Noise.Reason.values()).map(Enum::name).collect(Collectors.toSet()));
    }

    @Test
    void whatSentencesListIsWhatTheFirmwareHas() throws IOException {
        assertEquals(listed("Capture states: "), enumeration("sampler.h", "capture_state", "CAPTURE_"));
        Map<Integer, String> triggers = listed("Triggers: ");
        triggers.replace(4, "LOAD_EDGE");
        assertEquals(triggers, enumeration("sampler.h", "trigger", "TRIGGER_"));
        assertEquals(listed("Events: "), enumeration("safety.h", "event", "EVENT_"));
        Map<Integer, String> features = new LinkedHashMap<>();
        enumeration("settings.h", "feature", "FEATURE_")
                .forEach((bit, name) -> features.put(Integer.numberOfTrailingZeros(bit), name));
        assertEquals(listed("Features (bit, name): "), features);
    }

    @Test
    void theWorkedExampleIsWhatTheEncoderMakes() throws IOException {
        Matcher raw = Pattern.compile("raw {3}([0-9a-f ]+)\n").matcher(page());
        Matcher wire = Pattern.compile("wire {2}([0-9a-f ]+)\n").matcher(page());
        assertTrue(raw.find() && wire.find());
        Frame identify = new Frame(
                FrameKind.REQUEST,
                0,
                1,
                BoardMessage.IDENTIFY.id(),
                HexFormat.of().parseHex("01000100"));

        HexFormat spaced = HexFormat.ofDelimiter(" ");
        assertEquals(raw.group(1).strip(), spaced.formatHex(FrameEncoder.raw(identify)));
        assertEquals(wire.group(1).strip(), spaced.formatHex(FrameEncoder.wire(identify)));
    }

    @Test
    void theChecksumDetectsThreeWrongBitsInTheLongestFrame() {
        // three bits of distance 0, a, b go unseen if x^a + x^b + 1 is a multiple of the polynomial; the same argument
        // as
        // in P. Koopman, "32-bit cyclic redundancy codes for Internet applications" (2002), carried out here
        long polynomial = 0x104C11DB7L;
        int bits = 8 * (4096 + 12);
        Set<Long> powers = new HashSet<>();
        long power = 1;
        for (int k = 1; k < bits; k++) {
            power <<= 1;
            power = power >> 32 != 0 ? power ^ polynomial : power;
            assertTrue(power != 1, "two wrong bits " + k + " apart go unseen");
            assertFalse(powers.contains(power ^ 1), "three wrong bits within " + k + " go unseen");
            powers.add(power);
        }
    }

    @Test
    void hasTheFiveChartsAndTheStateDiagram() throws IOException {
        assertEquals(5, page().split("sequenceDiagram", -1).length - 1);
        Matcher edge = Pattern.compile("\n {4}(\\w+) --> (\\w+):").matcher(page());
        Set<String> reached = new HashSet<>();
        while (edge.find()) {
            assertTrue(STATES.contains(edge.group(1)) && STATES.contains(edge.group(2)), edge.group());
            reached.add(edge.group(2));
        }
        assertEquals(Set.copyOf(STATES), reached);
    }
}

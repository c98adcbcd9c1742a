package railproof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.params.ParameterizedTest;
import railproof.rig.Hazard;

/** The hazard table of DEVELOPERS.md against the code: every hazard, the times, and tests that are there. */
class HazardTableTest {
    private static final String HEADING = "| hazard | cause | noticed by | within | what happens | proved by |";
    private static final Pattern TEST = Pattern.compile("`(\\w+)#(\\w+)`");

    private record Row(String hazard, String cause, String by, String within, String happens, String proof) {}

    private static List<Row> rows() throws IOException {
        List<String> lines = Files.readAllLines(Path.of("DEVELOPERS.md"));
        int heading = lines.indexOf(HEADING);
        assertTrue(heading >= 0, "DEVELOPERS.md has no hazard table");
        List<Row> rows = new ArrayList<>();
        for (String line : lines.subList(heading + 2, lines.size())) {
            if (!line.startsWith("|")) {
                break;
            }
            String[] cells = line.split("\\|", -1);
            assertEquals(8, cells.length, line);
            rows.add(new Row(
                    cells[1].strip(),
                    cells[2].strip(),
                    cells[3].strip(),
                    cells[4].strip(),
                    cells[5].strip(),
                    cells[6].strip()));
        }
        return rows;
    }

    @Test
    void everyHazardHasARowWithTheTimeTheCodeKeeps() throws IOException {
        Map<String, String> printed = rows().stream()
                .collect(Collectors.toMap(Row::hazard, Row::within, (a, b) -> a + " and " + b, TreeMap::new));
        Map<String, String> known = Arrays.stream(Hazard.values())
                .collect(Collectors.toMap(Hazard::label, Hazard::within, (a, b) -> a, TreeMap::new));
        assertEquals(known, printed);
    }

    @Test
    void noCellIsEmptyAndEveryProofIsATestThatIsThere() throws IOException {
        Map<String, Class<?>> tests = testClasses();
        for (Row row : rows()) {
            for (String cell : List.of(row.cause, row.by, row.happens)) {
                assertFalse(cell.isEmpty(), row.hazard);
            }
            Matcher proof = TEST.matcher(row.proof);
            int proofs = 0;
            while (proof.find()) {
                proofs++;
                Class<?> test = tests.get(proof.group(1));
                assertTrue(test != null, row.hazard + ": no test class " + proof.group(1));
                assertTrue(isTest(test, proof.group(2)), row.hazard + ": no test " + proof.group());
            }
            assertTrue(proofs > 0, row.hazard + " has no proof");
        }
    }

    private static boolean isTest(Class<?> test, String name) {
        return Stream.of(test.getDeclaredMethods())
                .filter(method -> method.getName().equals(name))
                .anyMatch(HazardTableTest::isTest);
    }

    private static boolean isTest(Method method) {
        return method.isAnnotationPresent(Test.class)
                || method.isAnnotationPresent(ParameterizedTest.class)
                || method.isAnnotationPresent(TestFactory.class);
    }

    /** Simple names are enough: no two test classes here share one. */
    private static Map<String, Class<?>> testClasses() throws IOException {
        Path root = Path.of("src", "test", "java");
        Map<String, Class<?>> classes = new TreeMap<>();
        try (Stream<Path> files = Files.walk(root)) {
            for (Path file :
                    files.filter(f -> f.toString().endsWith("Test.java")).toList()) {
                String name = root.relativize(file)
                        .toString()
                        .replace(".java", "")
                        .replace(file.getFileSystem().getSeparator(), ".");
                classes.put(name.substring(name.lastIndexOf('.') + 1), loaded(name));
            }
        }
        return classes;
    }

    private static Class<?> loaded(String name) {
        try {
            return Class.forName(name, false, HazardTableTest.class.getClassLoader());
        } catch (ClassNotFoundException e) {
            throw new IllegalStateException(e);
        }
    }
}

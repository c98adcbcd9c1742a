package railproof;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.simpleName;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** The package table of DEVELOPERS.md, enforced. */
class ArchitectureTest {
    private static final JavaClasses CODE = new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("railproof");

    /** package → the railproof packages it may use, besides itself. DEVELOPERS.md prints the same table. */
    private static final Map<String, List<String>> MAY_USE = new TreeMap<>(Map.ofEntries(
            Map.entry("base", List.of()),
            Map.entry("toml", List.of("base")),
            Map.entry("signal", List.of("base")),
            Map.entry("profile", List.of("base", "toml")),
            Map.entry("run", List.of("base", "profile")),
            Map.entry("wire", List.of("base")),
            Map.entry("instrument", List.of("base", "wire")),
            Map.entry("rig", List.of("base", "toml", "profile", "run", "wire", "instrument")),
            Map.entry("procedure", List.of("base", "profile", "run", "signal", "instrument", "rig")),
            Map.entry("judge", List.of("base", "profile", "run", "signal")),
            Map.entry("diagnosis", List.of("base", "profile", "run", "signal", "judge")),
            Map.entry("record", List.of("base", "profile", "run", "judge", "diagnosis")),
            Map.entry("seal", List.of("base", "run", "record")),
            Map.entry("archive", List.of("base", "profile", "run", "judge", "record")),
            Map.entry("report", List.of("base", "profile", "run", "signal", "judge", "diagnosis", "record", "archive")),
            Map.entry("sim", List.of("base", "wire")),
            Map.entry(
                    "app",
                    List.of(
                            "base",
                            "toml",
                            "profile",
                            "run",
                            "wire",
                            "instrument",
                            "rig",
                            "procedure",
                            "signal",
                            "judge",
                            "record",
                            "seal",
                            "archive",
                            "report",
                            "sim")),
            Map.entry(
                    "cli",
                    List.of(
                            "base",
                            "profile",
                            "run",
                            "rig",
                            "procedure",
                            "judge",
                            "diagnosis",
                            "record",
                            "seal",
                            "archive",
                            "report",
                            "app",
                            "wire")),
            Map.entry(
                    "ui",
                    List.of(
                            "base",
                            "profile",
                            "run",
                            "rig",
                            "procedure",
                            "signal",
                            "judge",
                            "diagnosis",
                            "record",
                            "archive",
                            "report",
                            "app",
                            "wire"))));

    @TestFactory
    Stream<DynamicTest> packageUsesOnlyWhatTheTableAllows() {
        return MAY_USE.entrySet().stream()
                .map(entry -> DynamicTest.dynamicTest(entry.getKey(), () -> {
                    List<String> forbidden = new ArrayList<>();
                    for (String other : MAY_USE.keySet()) {
                        if (!other.equals(entry.getKey()) && !entry.getValue().contains(other)) {
                            forbidden.add("railproof." + other + "..");
                        }
                    }
                    noClasses()
                            .that()
                            .resideInAPackage("railproof." + entry.getKey() + "..")
                            .should()
                            .dependOnClassesThat()
                            .resideInAnyPackage(forbidden.toArray(String[]::new))
                            .check(CODE);
                }));
    }

    @Test
    void theGuideForContributorsPrintsTheSameTable() throws IOException {
        Map<String, String> printed = new TreeMap<>();
        for (String line : Files.readAllLines(Path.of("DEVELOPERS.md"))) {
            String[] cells = line.split("\\|", -1);
            if (cells.length == 5 && MAY_USE.containsKey(cells[1].strip().replace("`", ""))) {
                printed.put(cells[1].strip().replace("`", ""), cells[3].strip());
            }
        }
        Map<String, String> enforced = new TreeMap<>();
        MAY_USE.forEach((name, uses) -> enforced.put(name, uses.isEmpty() ? "–" : String.join(", ", uses)));
        assertEquals(enforced, printed);
    }

    @Test
    void everyClassLivesInATabledPackage() {
        classes()
                .that()
                .resideOutsideOfPackage("railproof")
                .should()
                .resideInAnyPackage(MAY_USE.keySet().stream()
                        .map(name -> "railproof." + name + "..")
                        .toArray(String[]::new))
                .check(CODE);
    }

    @Test
    void packagesFormNoCycles() {
        slices().matching("railproof.(*)..").should().beFreeOfCycles().check(CODE);
    }

    @Test
    void doubleFieldsCarryTheirUnit() {
        // the units of the code base, alone or as "per" of one another; Dimensionless is for pure numbers, and for
        // values whose unit stands beside them; Px is pixels; U is an uncertainty (and Variance its square) in the unit
        // of what
        // stands beside it, Dof its degrees of freedom; codes and
        // their squares are the board's
        String unit =
                "(V|A|W|Ohm|F|H|Hz|S|C|K|J|U|[dD]of|Variance|Code|OfSquares|Ratio|Pct|Db|Dimensionless|VPerS|VPerC|CPerW|JPerC"
                        + "|APerS|PerS|Px|Pt)";
        fields().that()
                .haveRawType(double.class)
                .and()
                .areDeclaredInClassesThat(not(resideInAPackage("railproof.signal..")))
                .and()
                .areDeclaredInClassesThat(not(resideInAPackage("railproof.base..")))
                .and()
                // partial derivatives and matrix elements: named by what they derive from
                .areDeclaredInClassesThat(not(simpleName("Transistor")))
                .should()
                .haveNameMatching(".*" + unit + "|[A-Z0-9_]+")
                .allowEmptyShould(true)
                .check(CODE);
    }

    @Test
    void onlyTheClockReadsTheClock() {
        noClasses()
                .that()
                .resideOutsideOfPackage("railproof.base..")
                .should()
                .callMethod(System.class, "nanoTime")
                .orShould()
                .callMethod(System.class, "currentTimeMillis")
                .orShould()
                .callMethod(Thread.class, "sleep", long.class)
                .orShould()
                .callMethod(java.time.Instant.class, "now")
                .check(CODE);
    }

    @TestFactory
    Stream<DynamicTest> librariesStayWhereTheyBelong() {
        return Stream.of(
                only("com.fazecast..", "railproof.wire.serial.."),
                only("org.tomlj..", "railproof.toml.."),
                only("org.apache.commons.csv..", "railproof.record.."),
                only("com.fasterxml..", "railproof.record..", "railproof.cli.."),
                only("javafx..", "railproof.ui.."),
                only("picocli..", "railproof.cli.."),
                only("org.jdbi..", "railproof.archive.store.."),
                only("org.flywaydb..", "railproof.archive.store.."),
                only("java.sql..", "railproof.archive.store.."),
                only("org.apache.pdfbox..", "railproof.report.."),
                only("org.apache.xmpbox..", "railproof.report.."),
                only("com.google.zxing..", "railproof.report.."));
    }

    private static DynamicTest only(String library, String... homes) {
        ArchRule rule = noClasses()
                .that()
                .resideOutsideOfPackages(homes)
                .should()
                .dependOnClassesThat()
                .resideInAPackage(library);
        return DynamicTest.dynamicTest(library, () -> rule.check(CODE));
    }

    @Test
    void onlyTheEntryPointEndsTheProcess() {
        noClasses()
                .that()
                .doNotHaveFullyQualifiedName("railproof.Main")
                .should()
                .callMethod(System.class, "exit", int.class)
                .orShould()
                .callMethod(Runtime.class, "halt", int.class)
                .check(CODE);
    }

    @Test
    void nobodyUsesUnseededRandomNumbers() {
        noClasses()
                .should()
                .callConstructor(java.util.Random.class)
                .orShould()
                .callMethod(Math.class, "random")
                .check(CODE);
    }
}

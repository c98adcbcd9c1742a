package railproof.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.base.Problem;
import railproof.base.Unit;
import railproof.diagnosis.Condition;
import railproof.diagnosis.Feature;
import railproof.diagnosis.Readings;
import railproof.diagnosis.Sight;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.run.Quantity;

/**
 * Readings from elsewhere for a diagnosis: a CSV file with one row per rail and condition, the unit in every heading, an
 * empty cell where nothing was read. Headings: {@code rail} (may be left out with one rail), {@code condition}
 * ({@code no-load}, {@code half-load}, {@code full-load}, {@code low-line}, {@code high-line}, {@code warm}), the voltage
 * columns of {@code points.csv}, {@code limit_current_A}, {@code short_circuit_A}, {@code step_dip_V},
 * {@code output_line_ripple_V} and {@code raw_line_ripple_V} (amplitude at the line frequency), and
 * {@code uncertainty_pct} (standard uncertainty of the row's levels; 0.5 if left out, ripple always 5).
 */
public final class ReadingsCsv {
    private static final String RAIL = "rail";
    private static final String CONDITION = "condition";
    private static final String UNCERTAINTY = "uncertainty_pct";
    private static final String BASE = Quantity.BASE.column();
    private static final String LINE = Quantity.LINE.column();
    private static final double USUAL_PCT = 0.5;
    private static final double RIPPLE_RATIO = 0.05;
    private static final int MAX_BYTES = 1 << 20;

    private static final Map<String, Sight> COLUMNS = columns();

    private ReadingsCsv() {}

    private static Map<String, Sight> columns() {
        Map<String, Sight> columns = new LinkedHashMap<>();
        columns.put(Quantity.OUTPUT.column(), Sight.OUTPUT);
        columns.put(Quantity.RIPPLE_PP.column(), Sight.OUTPUT_RIPPLE);
        columns.put(LINE, Sight.LINE);
        columns.put(Quantity.RAW.column(), Sight.RAW);
        columns.put(Quantity.RAW_RIPPLE_PP.column(), Sight.RAW_RIPPLE);
        columns.put(BASE, Sight.BASE);
        columns.put(Quantity.REFERENCE.column(), Sight.REFERENCE);
        columns.put(Quantity.SENSE_TAP.column(), Sight.SENSE_TAP);
        columns.put(Quantity.HEAT_SINK.column(), Sight.HEAT_SINK);
        columns.put("limit_current_A", Sight.LIMIT);
        columns.put("short_circuit_A", Sight.SHORT);
        columns.put("step_dip_V", Sight.UNDERSHOOT);
        columns.put("output_line_ripple_V", Sight.OUTPUT_LINE);
        columns.put("raw_line_ripple_V", Sight.RAW_LINE);
        return columns;
    }

    /**
     * Reads a file.
     *
     * @return by rail, in the order of the file
     * @throws BadFileException with everything that is wrong with it
     */
    public static Map<Rail, Readings> read(Path file, Profile profile) throws BadFileException {
        String name = file.toString();
        if (!Files.isRegularFile(file)) {
            throw new BadFileException(List.of(new Problem(name, 0, 0, "", "there is no such file")));
        }
        try {
            if (Files.size(file) > MAX_BYTES) {
                throw new BadFileException(List.of(
                        new Problem(name, 0, 0, "", "is larger than " + MAX_BYTES + " bytes, the most allowed")));
            }
            return parse(name, Utf8.decode(name, Files.readAllBytes(file)), profile);
        } catch (IOException e) {
            throw new BadFileException(List.of(new Problem(name, 0, 0, "", "cannot be read: " + e)));
        }
    }

    static Map<Rail, Readings> parse(String name, String text, Profile profile) throws BadFileException {
        List<Problem> problems = new ArrayList<>();
        List<String> known = new ArrayList<>(COLUMNS.keySet());
        known.addAll(List.of(RAIL, CONDITION, UNCERTAINTY));
        Map<Rail, Map<Feature, Measured>> read = new LinkedHashMap<>();
        Consumer<CsvRow> sink = row -> row(row, profile, read);
        String whole = text.isEmpty() || text.endsWith("\n") ? text : text + "\n";
        CsvText.parse(name, whole, problems, new CsvRow.Rows(name, known, problems, sink));
        if (problems.isEmpty() && read.values().stream().allMatch(Map::isEmpty)) {
            problems.add(new Problem(
                    name, 0, 0, "", "holds no reading; a heading line and at least one row with a value are needed"));
        }
        if (!problems.isEmpty()) {
            throw new BadFileException(problems);
        }
        Map<Rail, Readings> readings = new LinkedHashMap<>();
        read.forEach((rail, values) -> readings.put(rail, new Readings(values)));
        return readings;
    }

    private static void row(CsvRow row, Profile profile, Map<Rail, Map<Feature, Measured>> read) {
        Rail rail = rail(row, profile);
        Condition at = row.parsed(
                CONDITION,
                Condition::ofLabel,
                "no-load, half-load, full-load, low-line, high-line or warm",
                Condition.FULL_LOAD);
        double levelRatio = (row.has(UNCERTAINTY) ? row.finite(UNCERTAINTY) : USUAL_PCT) / 100;
        if (!(levelRatio > 0 && levelRatio <= 1)) {
            row.bad(UNCERTAINTY, "must be above 0 and at most 100");
            return;
        }
        double sign = Math.signum(rail.nominalV());
        Map<Feature, Measured> values = read.computeIfAbsent(rail, r -> new LinkedHashMap<>());
        COLUMNS.forEach((column, sight) -> {
            if (!row.has(column)) {
                return;
            }
            // the line is the line, however the rail is loaded
            Optional<Feature> feature = Feature.of(sight, sight == Sight.LINE ? Condition.FULL_LOAD : at);
            if (feature.isEmpty()) {
                row.bad(column, "is not used at " + at.label() + "; leave the cell empty");
                return;
            }
            double value = row.finite(column);
            switch (sight) {
                case OUTPUT, RAW, REFERENCE, SENSE_TAP -> value *= sign;
                case LINE -> value /= nominalLineV(profile, at);
                case BASE -> {
                    if (!row.has(Quantity.OUTPUT.column())) {
                        row.bad(column, "needs the output voltage in the same row: it is compared with it");
                        return;
                    }
                    value = sign * (value - row.finite(Quantity.OUTPUT.column()));
                }
                default -> {
                    if (value < 0) {
                        row.bad(column, "must not be negative, found " + value);
                        return;
                    }
                }
            }
            values.put(feature.get(), Measured.of(value, u(sight, value, levelRatio, rail), unit(sight)));
        });
    }

    private static double nominalLineV(Profile profile, Condition at) {
        return switch (at) {
            case LOW_LINE -> profile.line().lowV();
            case HIGH_LINE -> profile.line().highV();
            default -> profile.line().nominalV();
        };
    }

    private static Rail rail(CsvRow row, Profile profile) {
        Rail first = profile.rails().get(0);
        if (!row.has(RAIL)) {
            if (profile.rails().size() > 1) {
                row.bad(RAIL, "must name one of the rails " + names(profile));
            }
            return first;
        }
        String wanted = row.text(RAIL);
        return profile.rails().stream()
                .filter(rail -> rail.name().equals(wanted))
                .findFirst()
                .orElseGet(() -> {
                    row.bad(RAIL, "must be one of " + names(profile) + ", found \"" + wanted + "\"");
                    return first;
                });
    }

    private static String names(Profile profile) {
        return String.join(", ", profile.rails().stream().map(Rail::name).toList());
    }

    /** Standard uncertainty of a reading by hand, in its unit. */
    private static double u(Sight sight, double value, double levelRatio, Rail rail) {
        return switch (sight) {
            case OUTPUT, RAW, REFERENCE, SENSE_TAP, LIMIT, SHORT -> levelRatio * Math.abs(value);
            // the difference of two large readings
            case BASE -> Math.sqrt(2) * levelRatio * Math.abs(rail.nominalV());
            case LINE -> levelRatio;
            default -> RIPPLE_RATIO * value;
        };
    }

    private static Unit unit(Sight sight) {
        return sight.unit();
    }
}

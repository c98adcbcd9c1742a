package railproof.record;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Problem;
import railproof.base.Reading;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Setpoint;

/**
 * The layout of {@code points.csv}. For each quantity: value, standard uncertainty that varies, standard uncertainty
 * that is shared, for the output that of the drop in the leads, degrees of freedom of the varying part, and the reason
 * if it is missing. All empty: not attempted. The level asked for stands in the column of its unit.
 */
final class PointsTable {
    static final String FILE = "points.csv";

    private static final String INDEX = "index";
    private static final String SECTION = "section";
    private static final String RAIL = "rail";
    private static final String MODE = "asked_mode";
    private static final Map<String, String> LEVEL_COLUMNS =
            Map.of("CC", "asked_current_A", "CV", "asked_voltage_V", "CR", "asked_resistance_Ohm");
    private static final String OFF = "off";
    private static final String LINE = "asked_line_V";
    private static final String ELAPSED = "elapsed_s";
    private static final String SETTLED = "settled";
    private static final String WAVEFORM = "waveform";
    private static final String NOTE = "note";

    private PointsTable() {}

    /** The first line of the file. */
    static String heading() {
        return Cells.line(columns());
    }

    private static List<String> columns() {
        List<String> columns = new ArrayList<>(List.of(INDEX, SECTION, RAIL, MODE));
        columns.addAll(levelColumns());
        columns.addAll(List.of(LINE, ELAPSED, SETTLED));
        for (Quantity quantity : Quantity.values()) {
            for (Part part : Part.values()) {
                if (part != Part.LEAD || quantity == Quantity.OUTPUT) {
                    columns.add(part.column(quantity));
                }
            }
        }
        columns.addAll(List.of(WAVEFORM, NOTE));
        return columns;
    }

    private static List<String> levelColumns() {
        return LEVEL_COLUMNS.values().stream().sorted().toList();
    }

    /**
     * One line.
     *
     * @throws IllegalArgumentException if the point holds what the file cannot say: an unknown load mode, a reading in
     *     another unit than its quantity's, a number that is not finite
     */
    static String line(Point point) {
        Map<String, String> cells = new HashMap<>();
        cells.put(INDEX, Integer.toString(point.index()));
        cells.put(SECTION, point.section().label());
        cells.put(RAIL, Cells.text(point.rail()));
        cells.put(MODE, point.asked().mode());
        String levelColumn = LEVEL_COLUMNS.get(point.asked().mode());
        if (levelColumn != null) {
            cells.put(
                    levelColumn,
                    Cells.finite("the level asked for", point.asked().level()));
        } else if (!point.asked().equals(Setpoint.noLoad(point.asked().lineV()))) {
            throw new IllegalArgumentException("the load mode must be off (with level 0), CC, CV or CR, got "
                    + point.asked().mode() + " with level " + point.asked().level());
        }
        cells.put(LINE, Cells.finite("the line voltage asked for", point.asked().lineV()));
        cells.put(ELAPSED, Cells.finite("the time", point.elapsedS()));
        cells.put(SETTLED, Boolean.toString(point.settled()));
        point.readings().forEach((quantity, reading) -> put(cells, quantity, reading));
        point.waveform().ifPresent(id -> cells.put(WAVEFORM, Integer.toString(id)));
        cells.put(NOTE, Cells.text(point.note()));
        return Cells.line(
                columns().stream().map(column -> cells.getOrDefault(column, "")).toList());
    }

    private static void put(Map<String, String> cells, Quantity quantity, Reading reading) {
        if (reading instanceof Missing missing) {
            cells.put(Part.MISSING.column(quantity), Cells.text(missing.reason()));
        }
        if (reading instanceof Measured measured) {
            if (measured.unit() != quantity.unit()) {
                throw new IllegalArgumentException(
                        quantity.column() + " must be in " + quantity.unit() + ", got " + measured.unit());
            }
            cells.put(Part.VALUE.column(quantity), Cells.number(measured.value()));
            cells.put(Part.VARYING.column(quantity), Cells.number(measured.randomU()));
            cells.put(Part.SHARED.column(quantity), Cells.number(measured.sharedU()));
            if (quantity == Quantity.OUTPUT) {
                cells.put(Part.LEAD.column(quantity), Cells.number(measured.leadU()));
            } else if (measured.leadU() > 0) {
                throw new IllegalArgumentException(quantity.column() + " has no drop in its leads to be kept");
            }
            cells.put(Part.DOF.column(quantity), Cells.number(measured.randomDof()));
        }
    }

    /** Takes the whole file; what is wrong is added to {@code problems}. Says where its last whole line ends. */
    static CsvText read(String text, RunFormat format, List<Problem> problems, List<Point> into) {
        return CsvText.parse(FILE, text, problems, new CsvRow.Rows(FILE, columns(), problems, row -> {
            Point point = point(row, format);
            if (!into.isEmpty() && point.index() <= into.get(into.size() - 1).index()) {
                row.bad(
                        INDEX,
                        "must ascend, found " + point.index() + " after "
                                + into.get(into.size() - 1).index());
            }
            into.add(point);
        }));
    }

    private static Point point(CsvRow row, RunFormat format) {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        for (Quantity quantity : Quantity.values()) {
            reading(row, quantity, format, readings);
        }
        return new Point(
                row.count(INDEX),
                row.parsed(SECTION, Section::ofLabel, "a section such as load-sweep", Section.NO_LOAD),
                row.text(RAIL),
                asked(row),
                row.finite(ELAPSED),
                row.flag(SETTLED),
                readings,
                row.has(WAVEFORM) ? OptionalInt.of(row.count(WAVEFORM)) : OptionalInt.empty(),
                row.text(NOTE));
    }

    private static Setpoint asked(CsvRow row) {
        String mode = row.text(MODE);
        double lineV = row.finite(LINE);
        String levelColumn = LEVEL_COLUMNS.get(mode);
        if (levelColumn == null && !mode.equals(OFF)) {
            row.bad(MODE, "must be off, CC, CV or CR, found \"" + mode + "\"");
        }
        for (String column : levelColumns()) {
            if (row.has(column) && !column.equals(levelColumn)) {
                row.bad(column, "must be empty in mode " + mode);
            }
        }
        return levelColumn == null ? Setpoint.noLoad(lineV) : new Setpoint(mode, row.finite(levelColumn), lineV);
    }

    private static void reading(CsvRow row, Quantity quantity, RunFormat format, Map<Quantity, Reading> readings) {
        boolean measured = row.has(Part.VALUE.column(quantity))
                || row.has(Part.VARYING.column(quantity))
                || row.has(Part.SHARED.column(quantity))
                || row.has(Part.DOF.column(quantity));
        String missing = Part.MISSING.column(quantity);
        if (measured && row.has(missing)) {
            row.bad(missing, "a reading is either there or missing, not both");
        } else if (measured) {
            double value = row.finite(Part.VALUE.column(quantity));
            double varying = row.finite(Part.VARYING.column(quantity));
            double shared = row.finite(Part.SHARED.column(quantity));
            double lead = quantity == Quantity.OUTPUT ? leadU(row, Part.LEAD.column(quantity), format) : 0;
            double dof = row.number(Part.DOF.column(quantity));
            row.built(
                            Part.VALUE.column(quantity),
                            () -> new Measured(value, varying, shared, lead, dof, quantity.unit()))
                    .ifPresent(reading -> readings.put(quantity, reading));
        } else if (row.has(missing)) {
            row.built(missing, () -> new Missing(row.text(missing)))
                    .ifPresent(reading -> readings.put(quantity, reading));
        }
    }

    private static double leadU(CsvRow row, String column, RunFormat format) {
        return format.holdsLeadDrops() || row.has(column) ? row.finite(column) : 0;
    }

    /** The columns of a quantity. */
    private enum Part {
        VALUE("", true),
        VARYING("_u_var", true),
        SHARED("_u_shared", true),
        LEAD("_u_lead", true),
        DOF("_dof", false),
        MISSING("_missing", false);

        private final String suffix;
        private final boolean inUnit;

        Part(String suffix, boolean inUnit) {
            this.suffix = suffix;
            this.inUnit = inUnit;
        }

        /** {@code output_voltage_u_var_V} from {@code output_voltage_V}: the unit stays last. */
        String column(Quantity quantity) {
            int unitAt = quantity.column().lastIndexOf('_');
            String unit = inUnit ? quantity.column().substring(unitAt) : "";
            return quantity.column().substring(0, unitAt) + suffix + unit;
        }
    }
}

package railproof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.judge.Judgement;
import railproof.judge.SectionSummary;
import railproof.profile.Rail;
import railproof.run.CrossNote;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;

/** What each procedure did on one rail, as tables; one that has no rows is left out. Pure. */
final class SectionTables {
    private static final String NOTHING = "–";
    private static final List<Section> CHANGES =
            List.of(Section.LOAD_STEP, Section.HOLD_UP, Section.START_UP, Section.CURRENT_LIMIT);

    private final RunData run;
    private final Judgement judgement;
    private final Rail rail;

    /**
     * A table.
     *
     * @param parts widths of the columns as parts of the whole; sum 1
     */
    record Table(String title, List<Double> parts, List<String> heading, List<List<String>> rows) {}

    SectionTables(RunData run, Judgement judgement, Rail rail) {
        this.run = run;
        this.judgement = judgement;
        this.rail = rail;
    }

    List<Table> all() {
        List<Table> tables = new ArrayList<>();
        add(
                tables,
                "Procedures",
                List.of(0.29, 0.08, 0.2, 0.14, 0.29),
                List.of("Procedure", "Points", "Into the run", "Verdict", "Checks"),
                procedures());
        add(
                tables,
                "First power-up",
                List.of(0.22, 0.2, 0.2, 0.2, 0.18),
                List.of("At", "Line", "Output, no load", "Reservoir", "Line current"),
                firstPowerUp());
        add(
                tables,
                "Changes; U with k = 2",
                List.of(0.34, 0.2, 0.16, 0.16, 0.14),
                List.of("Case", "Time", "Below", "Above", "Rings at"),
                changes());
        add(
                tables,
                "Cross-regulation; U with k = 2",
                List.of(0.34, 0.33, 0.33),
                List.of("Other rail at", "Output", "Ripple, p-p"),
                crossRegulation());
        return tables;
    }

    private static void add(
            List<Table> tables, String title, List<Double> parts, List<String> heading, List<List<String>> rows) {
        if (!rows.isEmpty()) {
            tables.add(new Table(title, parts, heading, rows));
        }
    }

    private List<List<String>> procedures() {
        List<List<String>> rows = new ArrayList<>();
        for (SectionSummary section : judgement.sections()) {
            if (section.rail().equals(rail.name())) {
                rows.add(List.of(
                        RunWords.section(section.section()),
                        String.valueOf(section.points()),
                        section.points() == 0
                                ? "not done"
                                : RunWords.duration(section.fromS()) + " to " + RunWords.duration(section.toS()),
                        section.verdict().map(verdict -> verdict.words()).orElse("no limit set"),
                        section.reason().isEmpty() ? String.join(", ", section.checks()) : section.reason()));
            }
        }
        return rows;
    }

    private List<List<String>> firstPowerUp() {
        List<List<String>> rows = new ArrayList<>();
        for (Point point : points(Section.FIRST_POWER_UP)) {
            rows.add(List.of(
                    point.note(),
                    text(point, Quantity.LINE),
                    text(point, Quantity.OUTPUT),
                    text(point, Quantity.RAW),
                    text(point, Quantity.LINE_CURRENT)));
        }
        return rows;
    }

    private List<List<String>> changes() {
        List<List<String>> rows = new ArrayList<>();
        for (Section section : CHANGES) {
            for (Point point : points(section)) {
                if (point.readings().containsKey(Quantity.TRANSIENT_TIME)) {
                    rows.add(List.of(
                            caseOf(point),
                            text(point, Quantity.TRANSIENT_TIME),
                            text(point, Quantity.UNDERSHOOT),
                            text(point, Quantity.OVERSHOOT),
                            text(point, Quantity.RINGING)));
                }
            }
        }
        return rows;
    }

    /** What was changed, and how the line stood or what the reservoir held then. */
    private static String caseOf(Point point) {
        String phase = point.reading(Quantity.LINE_PHASE)
                .measured()
                .map(cycles -> String.format(Locale.ROOT, " at %.0f°", 360 * cycles.value()))
                .orElse("");
        String charge = point.section() == Section.START_UP
                ? point.reading(Quantity.RAW)
                        .measured()
                        .map(volts -> ", reservoir at " + brief(volts) + " before")
                        .orElse("")
                : "";
        String what =
                switch (point.section()) {
                    case LOAD_STEP -> "load ";
                    case START_UP -> "line on ";
                    case CURRENT_LIMIT -> "overload ";
                    default -> "";
                };
        return what + point.note() + phase + charge;
    }

    private List<List<String>> crossRegulation() {
        List<List<String>> rows = new ArrayList<>();
        for (Point point : points(Section.CROSS_REGULATION)) {
            if (CrossNote.of(point.note()).isPresent()) {
                rows.add(List.of(point.note(), text(point, Quantity.OUTPUT), text(point, Quantity.RIPPLE_PP)));
            }
        }
        return rows;
    }

    private List<Point> points(Section section) {
        return run.points(section, rail.name());
    }

    private static String text(Point point, Quantity quantity) {
        if (!point.readings().containsKey(quantity)) {
            return NOTHING;
        }
        Optional<Measured> measured = point.reading(quantity).measured();
        return measured.map(SectionTables::brief)
                .orElseGet(() -> point.reading(quantity) instanceof Missing missing ? missing.reason() : NOTHING);
    }

    private static String brief(Measured measured) {
        return Quantities.withUncertainty(measured.value(), 2 * measured.standardU(), measured.unit());
    }
}

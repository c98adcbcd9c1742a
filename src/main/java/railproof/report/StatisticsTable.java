package railproof.report;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.archive.Capability;
import railproof.archive.Proportion;
import railproof.archive.TypeStatistics;
import railproof.archive.TypeStatistics.Cause;
import railproof.archive.TypeStatistics.CheckStatistics;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.record.CsvExport;

/** What the runs of a type say together: plain text at most 100 columns wide, and for spreadsheets. Pure. */
public final class StatisticsTable {
    private static final List<Integer> WIDTHS = List.of(8, 27, 16, 22, 20);
    private static final int CAUSES = 10;

    private StatisticsTable() {}

    /** All of it; ends with a line end. */
    public static String text(TypeStatistics type) {
        TextTable table = new TextTable(WIDTHS);
        table.remark(0, "Type " + type.profileId() + ": " + type.runs() + " runs of " + type.units() + " units");
        table.remark(0, "First-pass yield: " + firstPass(type));
        if (!type.otherEnds().isEmpty()) {
            table.remark(0, "Ended early: " + new java.util.TreeMap<>(type.otherEnds()));
        }
        table.rule()
                .row(List.of("Rail", "Check", "Limit", "As left: mean, s, Ppk", "Shift by the repair"))
                .rule();
        for (CheckStatistics check : type.checks()) {
            Unit unit = unit(check);
            table.row(List.of(
                    check.rail(),
                    check.title(),
                    Quantities.limit(limit(check), unit),
                    check.asLeft().map(c -> capability(c, check, unit)).orElse("no unit has a value"),
                    check.shift().map(c -> spread(c, unit)).orElse("no unit has both")));
        }
        table.rule();
        causes(table, type);
        return table.remark(
                        0,
                        "Ppk: the nearer limit's distance from the mean over 3 s (ISO 22514-2, all values together; supposes"
                                + " a normal distribution), in brackets its lower 95 % bound (Bissell 1990); not given"
                                + " below " + Capability.FEWEST + " units. Each unit counts once, with its last run;"
                                + " burn-ins and runs that ended for a reason outside the unit do not count.")
                .toString();
    }

    private static String firstPass(TypeStatistics type) {
        if (type.firstPass().isEmpty()) {
            return "no unit has an as-left run";
        }
        Proportion share = type.firstPass().get();
        String conditional =
                type.firstConditional() == 0 ? "" : "; another " + type.firstConditional() + " conditionally";
        return String.format(
                Locale.ROOT,
                "%.1f %% (%d of %d units passed in their first as-left run; 95 %% interval %.1f to %.1f %%)%s",
                100 * share.shareRatio(),
                share.part(),
                share.whole(),
                100 * share.lowRatio(),
                100 * share.highRatio(),
                conditional);
    }

    private static String capability(Capability c, CheckStatistics check, Unit unit) {
        String left = check.otherLimits() == 0 ? "" : "\n" + check.otherLimits() + " units had other limits";
        String index;
        if (c.ppk().isPresent()) {
            index = "Ppk " + HistoryTable.number(c.ppk()) + " (" + HistoryTable.number(c.ppkLow()) + ")";
        } else if (c.count() < Capability.FEWEST) {
            index = "Ppk: too few units";
        } else {
            index = "Ppk: no spread or no limit";
        }
        return spread(c, unit) + "\n" + index + left;
    }

    private static String spread(Capability c, Unit unit) {
        return Quantities.plain(round(c.meanDimensionless()), unit) + "\ns = "
                + Quantities.plain(round(c.standardDeviationDimensionless()), unit) + ", n = " + c.count();
    }

    private static double round(double value) {
        return value == 0
                ? 0
                : new java.math.BigDecimal(value)
                        .round(new java.math.MathContext(4))
                        .doubleValue();
    }

    private static void causes(TextTable table, TypeStatistics type) {
        if (type.causes().isEmpty()) {
            table.remark(0, "No check failed.");
            return;
        }
        table.remark(0, "Common causes of failure, in runs as found / as left:");
        for (Cause cause :
                type.causes().subList(0, Math.min(CAUSES, type.causes().size()))) {
            table.remark(2, cause.asFound() + " / " + cause.asLeft() + "  " + cause.rail() + " " + cause.title());
        }
    }

    private static Band limit(CheckStatistics check) {
        return new Band(
                check.lowDimensionless().orElse(Double.NEGATIVE_INFINITY),
                check.highDimensionless().orElse(Double.POSITIVE_INFINITY));
    }

    /** A ratio and a count have no symbol; only trips are counted. */
    private static Unit unit(CheckStatistics check) {
        if (check.unit().isEmpty()) {
            return check.checkId().equals("envelope") ? Unit.COUNT : Unit.RATIO;
        }
        return Arrays.stream(Unit.values())
                .filter(unit -> unit.symbol().equals(check.unit()))
                .findFirst()
                .orElse(Unit.COUNT);
    }

    /** One row for each check of each type. */
    public static String csv(List<TypeStatistics> types) {
        CsvExport csv = new CsvExport(List.of(
                "type",
                "units",
                "first_pass_units",
                "units_as_left",
                "rail",
                "check",
                "title",
                "unit",
                "limit_low",
                "limit_high",
                "as_left_n",
                "as_left_mean",
                "as_left_s",
                "ppk",
                "ppk_low_95",
                "shift_n",
                "shift_mean",
                "shift_s",
                "failed_as_found",
                "failed_as_left"));
        for (TypeStatistics type : types) {
            for (CheckStatistics check : type.checks()) {
                Optional<Cause> cause = type.causes().stream()
                        .filter(c ->
                                c.checkId().equals(check.checkId()) && c.rail().equals(check.rail()))
                        .findFirst();
                csv.row(List.of(
                        type.profileId(),
                        type.units(),
                        type.firstPass().map(Proportion::part),
                        type.firstPass().map(Proportion::whole),
                        check.rail(),
                        check.checkId(),
                        check.title(),
                        check.unit(),
                        check.lowDimensionless(),
                        check.highDimensionless(),
                        check.asLeft().map(Capability::count),
                        check.asLeft().map(Capability::meanDimensionless),
                        check.asLeft().map(Capability::standardDeviationDimensionless),
                        check.asLeft().flatMap(Capability::ppk),
                        check.asLeft().flatMap(Capability::ppkLow),
                        check.shift().map(Capability::count),
                        check.shift().map(Capability::meanDimensionless),
                        check.shift().map(Capability::standardDeviationDimensionless),
                        cause.map(Cause::asFound).orElse(0),
                        cause.map(Cause::asLeft).orElse(0)));
            }
        }
        return csv.toString();
    }
}

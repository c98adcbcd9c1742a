package railproof.report;

import java.util.List;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.Observation;
import railproof.judge.Observations;
import railproof.judge.Verdict;
import railproof.run.RunData;

/** The verdicts as plain text for a terminal, at most 100 columns wide. Pure. */
public final class VerdictTable {
    private static final List<Integer> WIDTHS = List.of(9, 26, 22, 17, 5, 16);

    private VerdictTable() {}

    /** The table, with what marks the run above and the overall verdict below; ends with a line end. */
    public static String text(RunData run, Judgement judgement) {
        TextTable table = new TextTable(WIDTHS);
        table.remark(
                0,
                "Unit " + run.header().unitSerial() + ", "
                        + run.header().stage().label() + ", profile " + judgement.profileId());
        Words.marks(run, judgement).forEach(mark -> table.remark(0, "*** " + mark + " ***"));
        table.rule()
                .row(List.of("Rail", "Check", "Value ± U", "Limit", "TUR", "Verdict"))
                .rule();
        for (Check check : judgement.checks()) {
            table.row(List.of(
                    check.rail(),
                    check.title(),
                    check.value().measured().isPresent() ? Quantities.text(check.value(), check.expandedU()) : "–",
                    Quantities.limit(check.limit(), check.unit()),
                    Words.ratio(check),
                    check.verdict().words()));
            if (check.verdict() != Verdict.PASS && !check.detail().isEmpty()) {
                table.remark(10, check.detail());
            }
        }
        table.rule().remark(0, "Verdict: " + Words.verdict(run, judgement));
        table.remark(
                0, "Load and line at the end: " + Words.safeState(run.outcome().safeState()));
        table.remark(0, "Rule: " + Words.rule(judgement.rule()));
        table.remark(0, Words.TUR);
        List<Observation> seen = Observations.of(run);
        if (!seen.isEmpty()) {
            table.remark(0, "Seen, not judged:");
            seen.forEach(one -> table.remark(2, one.rail() + "  " + one.title() + ": " + one.words()));
        }
        return table.toString();
    }
}

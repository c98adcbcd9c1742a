package railproof.report;

import java.util.Optional;
import railproof.judge.Comparison;
import railproof.judge.Comparison.CheckRow;
import railproof.judge.Judgement;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.run.RunData;

/**
 * Two runs of a unit on one page to print: both curves on the same axes, the differences with their uncertainty, and
 * what turned from fail to pass. One self-contained HTML file, well-formed as XML. Pure.
 */
public final class ComparisonPage {
    private ComparisonPage() {}

    /**
     * Makes the page.
     *
     * @param before the earlier run, as a rule as found
     * @param after the later one
     * @param profile what both were judged against
     * @param comparison of the two
     */
    public static String html(RunData before, RunData after, Profile profile, Comparison comparison) {
        Markup page = new Markup();
        String unit = after.header().unitSerial();
        page.add("<!DOCTYPE html>");
        page.add("<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\"><head><meta charset=\"utf-8\"/>");
        page.add("<title>Before and after, unit {}</title>", unit);
        page.add("<style>").add(PageStyle.CSS).add("</style></head><body>");
        page.add("<h1>Before and after: unit {}</h1>", unit);
        if (!before.header().unitSerial().equals(unit)) {
            page.add(
                    "<div class=\"mark\">The run before is of another unit: {}</div>",
                    before.header().unitSerial());
        }
        if (before.header().simulated() || after.header().simulated()) {
            page.add("<div class=\"mark\">SIMULATED: at least one run is of no real unit</div>");
        }
        page.add("<p>Before: {} ({}). After: {} ({}).</p>", run(before), stage(before), run(after), stage(after));
        ComparisonTable.changes(comparison).forEach(line -> page.add("<p class=\"verdict\">{}</p>", line));
        checks(page, comparison);
        for (Rail rail : profile.rails()) {
            rail(page, before, after, profile, rail);
        }
        return page.add("</body></html>").toString();
    }

    private static String run(RunData run) {
        return run.header().runId();
    }

    private static String stage(RunData run) {
        return run.header().stage().label();
    }

    private static void checks(Markup page, Comparison comparison) {
        page.add("<table><thead><tr><th>Rail</th><th>Check</th><th>Before</th><th>After</th><th>Change ± U</th></tr>"
                + "</thead><tbody>");
        for (CheckRow row : comparison.checks()) {
            page.add(
                    "<tr><td class=\"number\">{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>",
                    row.rail(),
                    row.title(),
                    ComparisonTable.side(row.before()),
                    ComparisonTable.side(row.after()),
                    ComparisonTable.change(row.change()));
        }
        page.add("</tbody></table>");
    }

    private static void rail(Markup page, RunData before, RunData after, Profile profile, Rail rail) {
        CertificateExtras beside = new CertificateExtras(Optional.empty(), Optional.of(before), "");
        Judgement none = new Judgement(profile.id(), "", profile.rule(), java.util.List.of());
        CertificateFacts facts = new CertificateFacts(after, profile, none, beside);
        page.add("<h2>{}</h2>", facts.railTitle(rail));
        for (CertificateFacts.Figure figure : facts.figures(rail)) {
            page.add("<figure><h3>{}</h3>", figure.title());
            figure.graph().ifPresent(graph -> page.add(graph.svg(figure.title())));
            page.add("</figure>");
        }
    }
}

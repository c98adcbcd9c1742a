package railproof.report;

import java.util.List;
import java.util.Locale;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.run.RunData;
import railproof.run.RunHeader;

/**
 * The page that goes with the unit: one self-contained HTML file without scripts or outside resources, well-formed as
 * XML, made to be printed. It is a certificate only if nothing marks the run; otherwise it says what does.
 *
 * <p>Pure and repeatable: the same run, profile and judgement give the same bytes.
 */
public final class CertificatePage {
    /** The page's file name inside a run folder. */
    public static final String FILE = "certificate.html";

    private final RunData run;
    private final Profile profile;
    private final Judgement judgement;
    private final Markup page = new Markup();

    private final CertificateExtras extras;
    private final CertificateFacts facts;

    private CertificatePage(RunData run, Profile profile, Judgement judgement, CertificateExtras extras) {
        this.run = run;
        this.profile = profile;
        this.judgement = judgement;
        this.extras = extras;
        this.facts = new CertificateFacts(run, profile, judgement, extras);
    }

    /**
     * Makes the page.
     *
     * @param run the run as archived
     * @param profile the profile judged against
     * @param judgement what was judged
     */
    public static String html(RunData run, Profile profile, Judgement judgement) {
        return html(run, profile, judgement, CertificateExtras.NONE);
    }

    /**
     * Makes the page.
     *
     * @param run the run as archived
     * @param profile the profile judged against
     * @param judgement what was judged
     * @param extras what else is shown
     */
    public static String html(RunData run, Profile profile, Judgement judgement, CertificateExtras extras) {
        return new CertificatePage(run, profile, judgement, extras).whole();
    }

    private String whole() {
        RunHeader header = run.header();
        page.add("<!DOCTYPE html>");
        page.add("<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\"><head><meta charset=\"utf-8\"/>");
        page.add("<meta http-equiv=\"Content-Security-Policy\""
                + " content=\"default-src 'none'; style-src 'unsafe-inline'\"/>");
        page.add(
                "<title>{} {} {}</title>",
                facts.heading(),
                header.unitSerial(),
                header.stage().label());
        page.add("<meta name=\"run\" content=\"{}\"/>", Words.RUN_MARK + header.runId());
        page.add("<style>").add(PageStyle.CSS).add("</style></head><body>");
        page.add("<h1>{}</h1>", facts.heading());
        Words.marks(run, judgement).forEach(mark -> page.add("<div class=\"mark\">{}</div>", mark));
        page.add("<div class=\"verdict\">Verdict: {}</div>", Words.verdict(run, judgement));
        page.add("<h2>Unit and conditions</h2>");
        list(facts.unit());
        checks();
        if (facts.burntIn()) {
            page.add("<h2>Course of the burn-in, hours since its start</h2>");
            list(facts.course());
        }
        profile.rails().forEach(this::rail);
        cautions();
        digests();
        if (extras.signOff().isPresent()) {
            page.add("<h2>{}</h2>", Words.signOffTitle(extras.signOff().get()));
            list(facts.signOff());
        } else {
            page.add("<div class=\"sign\"><div>tested by, date</div><div>checked by, date</div></div>");
        }
        return page.add("</body></html>").toString();
    }

    private void list(List<CertificateFacts.Fact> list) {
        page.add("<table>");
        list.forEach(fact -> row(fact.name(), fact.value()));
        page.add("</table>");
    }

    private void row(String name, String value) {
        page.add("<tr><th class=\"side\">{}</th><td>{}</td></tr>", name, value);
    }

    private void checks() {
        page.add("<h2>Checks</h2><p>{}</p>", facts.rule());
        page.add("<table><thead><tr><th>Rail</th><th>Check</th><th>Value ± U</th><th>k</th><th>Limit</th>"
                + "<th>TUR</th><th>Verdict</th></tr></thead><tbody>");
        for (Check check : judgement.checks()) {
            boolean there = check.value().measured().isPresent();
            page.add("<tr><td class=\"number\">{}</td><td>{}", check.rail(), check.title());
            if (!check.detail().isEmpty()) {
                page.add("<div class=\"detail\">{}</div>", check.detail());
            }
            page.add(
                    "</td><td class=\"{}\">{}</td><td>{}</td><td class=\"number\">{}</td>"
                            + "<td class=\"number\">{}</td><td class=\"{}\">{}</td></tr>",
                    there ? "number" : "detail",
                    Quantities.text(check.value(), check.expandedU()),
                    there ? String.format(Locale.ROOT, "%.2f", check.coverageDimensionless()) : "",
                    Quantities.limit(check.limit(), check.unit()),
                    Words.ratio(check),
                    check.verdict().words().replace(' ', '-'),
                    check.verdict().words());
        }
        page.add("</tbody></table>");
    }

    private void rail(Rail rail) {
        page.add("<h2>{}</h2>", facts.railTitle(rail));
        facts.tables(rail).forEach(this::table);
        for (CertificateFacts.Figure figure : facts.figures(rail)) {
            page.add("<figure><h3>{}</h3>", figure.title());
            if (figure.graph().isPresent()) {
                page.add(figure.graph().get().svg(figure.title()));
            } else {
                page.add("<p class=\"detail\">Not measured in this run.</p>");
            }
            page.add("</figure>");
        }
        facts.seen(rail).forEach(seen -> page.add("<p>{}</p>", seen));
    }

    private void table(SectionTables.Table table) {
        page.add("<h3>{}</h3><table><thead><tr>", table.title());
        table.heading().forEach(text -> page.add("<th>{}</th>", text));
        page.add("</tr></thead><tbody>");
        for (List<String> row : table.rows()) {
            page.add("<tr>");
            row.forEach(text -> page.add("<td>{}</td>", text));
            page.add("</tr>");
        }
        page.add("</tbody></table>");
    }

    private void cautions() {
        if (!facts.cautions().isEmpty()) {
            page.add("<h2>Cautions</h2>");
        }
        facts.cautions().forEach(text -> page.add("<p class=\"caution\">{}</p>", text));
    }

    private void digests() {
        page.add("<h2>Digests (SHA-256)</h2><table>");
        for (CertificateFacts.Digest digest : facts.digests()) {
            page.add(
                    "<tr><th class=\"side\">{}</th><td>{}<div class=\"digest\">{}</div></td></tr>",
                    digest.name(),
                    digest.file(),
                    digest.sha256());
        }
        if (!extras.recordSha256().isEmpty()) {
            page.add("<tr><th class=\"side\">The same to scan</th><td><div class=\"qr\">")
                    .add(QrPattern.of(run.header().runId(), extras.recordSha256())
                            .svg())
                    .add("</div></td></tr>");
        }
        row("Made by", "Railproof " + run.header().softwareVersion());
        page.add("</table>");
    }
}

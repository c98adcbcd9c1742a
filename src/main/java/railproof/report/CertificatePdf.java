package railproof.report;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.SignOff;
import railproof.judge.Verdict;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.report.PdfPaper.TypeFace;
import railproof.report.PdfSheet.Cell;
import railproof.run.RunData;
import railproof.run.RunEvent;

/**
 * The certificate as PDF/A-1b: one page with unit, conditions, verdict, checks and who signed, and an annex with the
 * curves, cautions and digests. Made to be printed in black and white; needs no display.
 *
 * <p>Pure and repeatable: the same run, profile, judgement and extras give the same bytes.
 */
public final class CertificatePdf {
    /** Its file name inside a run folder. */
    public static final String FILE = "certificate.pdf";

    private static final TypeFace TITLE = new TypeFace(18, true);
    private static final TypeFace VERDICT = new TypeFace(13, true);
    private static final TypeFace MARK = new TypeFace(11, true);
    private static final double NAME_WIDTH = 78;
    private static final double FOOTER = 20;
    private static final double QR_SIDE = 78;
    private static final double GRAPH_SCALE = 0.57;
    private static final double[] COLUMNS = {38, 168, 98, 26, 102, PdfSheet.WIDTH - 432};
    private static final double[] BRIEF_COLUMNS = {38, 222, 92, 24, 88, PdfSheet.WIDTH - 464};
    private static final int MOST_IN_FULL = 14;
    private static final List<String> HEADING = List.of("Rail", "Check", "Value ± U", "k", "Limit", "Verdict");

    private final RunData run;
    private final Profile profile;
    private final Judgement judgement;
    private final CertificateExtras extras;
    private final CertificateFacts facts;
    private final PdfPaper paper;
    private final PdfSheet sheet;

    private CertificatePdf(
            RunData run, Profile profile, Judgement judgement, CertificateExtras extras, PdfPaper paper) {
        this.run = run;
        this.profile = profile;
        this.judgement = judgement;
        this.extras = extras;
        this.facts = new CertificateFacts(run, profile, judgement, extras);
        this.paper = paper;
        this.sheet = new PdfSheet(paper, FOOTER);
    }

    /** Makes the file. */
    public static byte[] pdf(RunData run, Profile profile, Judgement judgement, CertificateExtras extras) {
        try (PdfPaper paper = new PdfPaper()) {
            return new CertificatePdf(run, profile, judgement, extras, paper).whole();
        }
    }

    private byte[] whole() {
        firstPage();
        for (Rail rail : profile.rails()) {
            sheet.nextPage();
            sheet.paragraph(PdfSheet.HEADING, "Annex. " + facts.railTitle(rail));
            facts.tables(rail).forEach(this::table);
            for (CertificateFacts.Figure figure : facts.figures(rail)) {
                figure(figure);
            }
            facts.seen(rail).forEach(seen -> sheet.paragraph(PdfSheet.SMALL, seen));
        }
        lastPage();
        footers();
        return paper.done(title(), Words.RUN_MARK + run.header().runId(), made());
    }

    private String title() {
        return facts.heading() + ", unit " + run.header().unitSerial() + ", "
                + run.header().stage().label();
    }

    private Instant made() {
        Optional<Instant> signed = extras.signOff().map(SignOff::at);
        return signed.orElseGet(() -> run.events().stream()
                .filter(RunEvent.RunEnded.class::isInstance)
                .map(event -> ((RunEvent.RunEnded) event).wallTime())
                .findFirst()
                .orElse(run.header().startedAt()));
    }

    private void firstPage() {
        code();
        sheet.paragraph(TITLE, facts.heading());
        sheet.skip(3);
        Words.marks(run, judgement).forEach(mark -> sheet.framed(MARK, mark, PdfSheet.WIDTH - QR_SIDE));
        sheet.paragraph(VERDICT, "Unit " + run.header().unitSerial() + ". Verdict: " + Words.verdict(run, judgement));
        sheet.skip(5);
        sheet.twoColumns(facts.unit(), NAME_WIDTH);
        signatures();
        if (!facts.cautions().isEmpty()) {
            sheet.heading("Cautions");
            facts.cautions().forEach(caution -> sheet.paragraph(PdfSheet.SMALL_BOLD, "–  " + caution));
        }
        sheet.heading("Checks");
        sheet.paragraph(PdfSheet.SMALL, facts.rule());
        sheet.skip(2);
        List<List<Cell>> rows = new ArrayList<>();
        judgement.checks().forEach(check -> rows.add(row(check)));
        sheet.table(brief() ? BRIEF_COLUMNS : COLUMNS, HEADING, rows);
        if (facts.burntIn()) {
            sheet.heading("Course of the burn-in, hours since its start");
            facts.course().forEach(fact -> sheet.paragraph(PdfSheet.SMALL, fact.name() + "  " + fact.value()));
        }
    }

    /** In the corner of the first page, where a reader looks for it. */
    private void code() {
        if (!extras.recordSha256().isEmpty()) {
            sheet.qr(
                    QrPattern.of(run.header().runId(), extras.recordSha256()),
                    PdfSheet.MARGIN + PdfSheet.WIDTH - QR_SIDE + 6,
                    PdfSheet.MARGIN - 14,
                    QR_SIDE);
        }
    }

    private void signatures() {
        if (extras.signOff().isPresent()) {
            sheet.heading(Words.signOffTitle(extras.signOff().get()));
            sheet.twoColumns(facts.signOff(), NAME_WIDTH);
        } else {
            sheet.skip(6);
            sheet.paragraph(
                    PdfSheet.SMALL,
                    "tested by, date ...............................................     checked by,"
                            + " date ...............................................");
        }
    }

    /** With many checks the first page shows each in short, and the annex says where the worst values were. */
    private boolean brief() {
        return judgement.checks().size() > MOST_IN_FULL;
    }

    private List<Cell> row(Check check) {
        boolean there = check.value().measured().isPresent();
        boolean good = check.verdict() == Verdict.PASS;
        return List.of(
                Cell.of(check.rail()),
                new Cell(PdfSheet.SMALL, check.title(), brief() ? "" : check.detail()),
                Cell.of(there ? Quantities.text(check.value(), check.expandedU()) : "–"),
                Cell.of(there ? String.format(Locale.ROOT, "%.2f", check.coverageDimensionless()) : ""),
                Cell.of(Quantities.limit(check.limit(), check.unit())),
                new Cell(
                        good ? PdfSheet.SMALL : PdfSheet.SMALL_BOLD,
                        check.verdict().words(),
                        ""));
    }

    private void table(SectionTables.Table table) {
        sheet.skip(4);
        sheet.need(50);
        sheet.paragraph(PdfSheet.SMALL_BOLD, table.title());
        double[] widths = table.parts().stream()
                .mapToDouble(part -> part * PdfSheet.WIDTH)
                .toArray();
        List<List<Cell>> rows = table.rows().stream()
                .map(row -> row.stream().map(Cell::of).toList())
                .toList();
        sheet.table(widths, table.heading(), rows);
    }

    private void figure(CertificateFacts.Figure figure) {
        sheet.need(figure.graph().isPresent() ? GRAPH_SCALE * Graph.HEIGHT + 26 : 30);
        sheet.skip(6);
        sheet.paragraph(PdfSheet.SMALL_BOLD, figure.title());
        if (figure.graph().isPresent()) {
            sheet.graph(figure.graph().get(), GRAPH_SCALE);
        } else {
            sheet.paragraph(PdfSheet.SMALL, "Not measured in this run.");
        }
    }

    private void lastPage() {
        if (brief()) {
            sheet.heading("Checks: where the worst values were, or why there are none");
            judgement.checks().stream()
                    .filter(check -> !check.detail().isEmpty())
                    .forEach(check ->
                            sheet.paragraph(PdfSheet.TINY, check.rail() + " " + check.title() + ": " + check.detail()));
        }
        sheet.need(20.0 * (facts.digests().size() + 2));
        sheet.heading("Digests (SHA-256)");
        for (CertificateFacts.Digest digest : facts.digests()) {
            sheet.paragraph(PdfSheet.SMALL, digest.name() + (digest.file().isEmpty() ? "" : ": " + digest.file()));
            sheet.paragraph(PdfSheet.TINY, digest.sha256(), 12);
        }
        sheet.paragraph(
                PdfSheet.SMALL,
                "Made by Railproof " + run.header().softwareVersion()
                        + ". The code on the first page holds run and record digest; railproof verify says whether this"
                        + " file and its run are as they were sealed.");
    }

    private void footers() {
        String left = title() + ", run " + run.header().runId();
        for (int page = 0; page < paper.count(); page++) {
            String right = "page " + (page + 1) + " of " + paper.count();
            double y = PdfPaper.HEIGHT - PdfSheet.MARGIN + 4;
            paper.text(page, PdfSheet.MARGIN, y, PdfSheet.TINY, left);
            double width = paper.width(PdfSheet.TINY, right);
            paper.text(page, PdfSheet.MARGIN + PdfSheet.WIDTH - width, y, PdfSheet.TINY, right);
            String digest = extras.recordSha256().isEmpty() ? "not sealed" : "record " + extras.recordSha256();
            paper.text(page, PdfSheet.MARGIN, y + 9, PdfSheet.TINY, digest);
        }
    }
}

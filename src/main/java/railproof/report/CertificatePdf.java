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
    private static final double QR_SIDE = 84;
    private static final double GRAPH_SCALE = 0.65;
    private static final double[] COLUMNS = {38, 168, 98, 26, 102, PdfSheet.WIDTH - 432};
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
        sheet.paragraph(TITLE, facts.heading());
        sheet.skip(3);
        Words.marks(run, judgement).forEach(mark -> sheet.framed(MARK, mark));
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
        sheet.table(COLUMNS, HEADING, rows);
        if (facts.burntIn()) {
            sheet.heading("Course of the burn-in, hours since its start");
            facts.course().forEach(fact -> sheet.paragraph(PdfSheet.SMALL, fact.name() + "  " + fact.value()));
        }
        if (!extras.recordSha256().isEmpty()) {
            seal();
        }
    }

    /** At the foot of the page the checks end on. */
    private void seal() {
        sheet.need(QR_SIDE + 8);
        sheet.skip(sheet.left() - QR_SIDE);
        double top = sheet.top();
        sheet.qr(
                QrPattern.of(run.header().runId(), extras.recordSha256()),
                PdfSheet.MARGIN + PdfSheet.WIDTH - QR_SIDE + 6,
                top,
                QR_SIDE);
        sheet.skip(QR_SIDE - 44);
        sheet.paragraph(PdfSheet.SMALL_BOLD, "Record, as sealed");
        sheet.paragraph(PdfSheet.SMALL, extras.recordSha256());
        sheet.paragraph(
                PdfSheet.TINY,
                "The code holds run and digest. railproof verify says whether this file and its run are as they were"
                        + " sealed.");
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

    private static List<Cell> row(Check check) {
        boolean there = check.value().measured().isPresent();
        boolean good = check.verdict() == Verdict.PASS;
        return List.of(
                Cell.of(check.rail()),
                new Cell(PdfSheet.SMALL, check.title(), check.detail()),
                Cell.of(Quantities.text(check.value(), check.expandedU())),
                Cell.of(there ? String.format(Locale.ROOT, "%.2f", check.coverageDimensionless()) : ""),
                Cell.of(Quantities.limit(check.limit(), check.unit())),
                new Cell(
                        good ? PdfSheet.SMALL : PdfSheet.SMALL_BOLD,
                        check.verdict().words(),
                        ""));
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
        sheet.need(20.0 * (facts.digests().size() + 2));
        sheet.heading("Digests (SHA-256)");
        for (CertificateFacts.Digest digest : facts.digests()) {
            sheet.paragraph(PdfSheet.SMALL, digest.name() + (digest.file().isEmpty() ? "" : ": " + digest.file()));
            sheet.paragraph(PdfSheet.TINY, digest.sha256(), 12);
        }
        sheet.paragraph(PdfSheet.SMALL, "Made by Railproof " + run.header().softwareVersion());
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

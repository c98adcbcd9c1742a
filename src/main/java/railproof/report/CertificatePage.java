package railproof.report;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Unit;
import railproof.judge.CalibrationState;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.profile.LineRating;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.profile.SourceText;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
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

    private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss 'UTC'", Locale.ROOT)
            .withZone(ZoneOffset.UTC);

    /** A page is to be read; whatever is more than this is in the record. */
    private static final int MOST_EVENTS = 40;

    private static final double SECONDS_PER_HOUR = 3600;

    private final RunData run;
    private final Profile profile;
    private final Judgement judgement;
    private final boolean burntIn;
    private final Markup page = new Markup();

    private CertificatePage(RunData run, Profile profile, Judgement judgement) {
        this.run = run;
        this.profile = profile;
        this.judgement = judgement;
        this.burntIn = run.events().stream().anyMatch(RunEvent.BurnInPlanned.class::isInstance);
    }

    /**
     * Makes the page.
     *
     * @param run the run as archived
     * @param profile the profile judged against
     * @param judgement what was judged
     */
    public static String html(RunData run, Profile profile, Judgement judgement) {
        return new CertificatePage(run, profile, judgement).whole();
    }

    private String whole() {
        List<String> marks = Words.marks(run, judgement);
        String heading = marks.isEmpty() ? "Certificate of test" : "Test record (not a certificate)";
        RunHeader header = run.header();
        page.add("<!DOCTYPE html>");
        page.add("<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\"><head><meta charset=\"utf-8\"/>");
        page.add("<meta http-equiv=\"Content-Security-Policy\""
                + " content=\"default-src 'none'; style-src 'unsafe-inline'\"/>");
        page.add(
                "<title>{} {} {}</title>",
                heading,
                header.unitSerial(),
                header.stage().label());
        page.add("<style>").add(PageStyle.CSS).add("</style></head><body>");
        page.add("<h1>{}</h1>", heading);
        marks.forEach(mark -> page.add("<div class=\"mark\">{}</div>", mark));
        page.add("<div class=\"verdict\">Verdict: {}</div>", judgement.overall().words());
        unit();
        checks();
        if (burntIn) {
            course();
        }
        profile.rails().forEach(this::rail);
        cautions();
        digests();
        page.add("<div class=\"sign\"><div>tested by, date</div><div>checked by, date</div></div>");
        return page.add("</body></html>").toString();
    }

    private void unit() {
        RunHeader header = run.header();
        LineRating line = profile.line();
        page.add("<h2>Unit and conditions</h2><table>");
        row("Unit", header.unitSerial());
        row("Stage", header.stage().label());
        row("Profile", profile.title() + " (" + profile.id() + ")");
        row("Run", header.runId());
        row("Started", TIME.format(header.startedAt()));
        ended().ifPresent(end -> row("Ended", TIME.format(end) + ", after " + span(header.startedAt(), end)));
        row("Operator", header.operator().isEmpty() ? "not said" : header.operator());
        row(
                "Line",
                Quantities.plain(line.nominalV(), Unit.VOLT) + " nominal, "
                        + Quantities.plain(line.lowV(), Unit.VOLT) + " low, "
                        + Quantities.plain(line.highV(), Unit.VOLT) + " high, "
                        + Quantities.plain(line.frequencyHz(), Unit.HERTZ));
        warmest().ifPresent(text -> row("Heat sink, warmest", text));
        row("At the end", Words.safeState(run.outcome().safeState()));
        row("Rig", header.rig().name());
        row(
                "Calibration",
                (header.calibration().text().isEmpty()
                                ? ""
                                : header.calibration().name() + ": ")
                        + CalibrationState.of(run, judgement).words());
        header.instruments().forEach(instrument -> row("Instrument", instrument));
        page.add("</table>");
    }

    private void row(String name, String value) {
        page.add("<tr><th class=\"side\">{}</th><td>{}</td></tr>", name, value);
    }

    private void checks() {
        page.add(
                "<h2>Checks</h2><p>Decision rule: {}. U is the expanded uncertainty for a level of confidence"
                        + " of about 95 %.</p>",
                Words.rule(judgement.rule()));
        page.add("<table><thead><tr><th>Rail</th><th>Check</th><th>Value ± U</th><th>k</th><th>Limit</th>"
                + "<th>Verdict</th></tr></thead><tbody>");
        for (Check check : judgement.checks()) {
            boolean there = check.value().measured().isPresent();
            page.add("<tr><td class=\"number\">{}</td><td>{}", check.rail(), check.title());
            if (!check.detail().isEmpty()) {
                page.add("<div class=\"detail\">{}</div>", check.detail());
            }
            page.add(
                    "</td><td class=\"{}\">{}</td><td>{}</td><td class=\"number\">{}</td><td class=\"{}\">{}</td></tr>",
                    there ? "number" : "detail",
                    Quantities.text(check.value(), check.expandedU()),
                    there ? String.format(Locale.ROOT, "%.2f", check.coverageDimensionless()) : "",
                    Quantities.limit(check.limit(), check.unit()),
                    check.verdict().words().replace(' ', '-'),
                    check.verdict().words());
        }
        page.add("</tbody></table>");
    }

    /** What happened during a burn-in: cold starts, pauses, warnings, breaks. */
    private void course() {
        List<RunEvent> told = run.events().stream()
                .filter(event -> event instanceof RunEvent.Note || event instanceof RunEvent.Resumed)
                .toList();
        page.add("<h2>Course of the burn-in</h2><table>");
        for (RunEvent event : told.subList(0, Math.min(MOST_EVENTS, told.size()))) {
            String text = event instanceof RunEvent.Resumed resumed
                    ? String.format(
                            Locale.ROOT,
                            "taken up again after a break in the record of %.0f s, at %s",
                            resumed.gapS(),
                            TIME.format(resumed.wallTime()))
                    : ((RunEvent.Note) event).text();
            row(String.format(Locale.ROOT, "%.2f h", event.elapsedS() / SECONDS_PER_HOUR), text);
        }
        if (told.size() > MOST_EVENTS) {
            row("", (told.size() - MOST_EVENTS) + " more, in the run folder's events");
        }
        page.add("</table><p class=\"detail\">Times are since the start of the run.</p>");
    }

    private void rail(Rail rail) {
        page.add(
                "<h2>Rail {}: {}, {}</h2>",
                rail.name(),
                Quantities.plain(rail.nominalV(), Unit.VOLT),
                Quantities.plain(rail.ratedCurrentA(), Unit.AMPERE));
        if (burntIn) {
            burnIn(new BurnInCurves(run, rail, profile.plan().burnIn()));
        } else {
            sweeps(rail);
        }
    }

    private void burnIn(BurnInCurves curves) {
        figure(
                "Output over the hours; the grey band is how far it may drift from its first hot reading,"
                        + " at a dashed line the load had been off (cold start, pause or break)",
                curves.output());
        figure("Ripple over the hours; the grey band is allowed", curves.ripple());
        String max = profile.plan().burnIn().heatSinkMaxC().isPresent() ? "; the grey band is allowed" : "";
        figure("Heat sink over the hours" + max, curves.heatSink());
    }

    private void sweeps(Rail rail) {
        Curves curves = new Curves(run, rail);
        figure("Output over load; the grey band is allowed, bars are U (k = 2)", curves.load());
        String range = rail.limits()
                .currentLimitA()
                .map(band -> "; the grey band is where it must set in")
                .orElse("");
        figure("Current limit" + range, curves.limit());
        String load = curves.heaviest()
                .map(point -> ", load asked for: " + point.asked().mode() + " "
                        + Quantities.plain(
                                point.asked().level(), levelUnit(point.asked().mode())))
                .orElse("");
        figure("Ripple" + load, curves.ripple());
    }

    private void figure(String title, Optional<Graph> graph) {
        page.add("<figure><h3>{}</h3>", title);
        if (graph.isPresent()) {
            page.add(graph.get().svg(title));
        } else {
            page.add("<p class=\"detail\">Not measured in this run.</p>");
        }
        page.add("</figure>");
    }

    private void cautions() {
        boolean live = profile.rails().stream().anyMatch(Rail::hazardousLive);
        if (live || !profile.cautions().isEmpty()) {
            page.add("<h2>Cautions</h2>");
        }
        if (live) {
            page.add("<p class=\"caution\">Hazardous live: an output can exceed 60 V d.c. Capacitors stay charged"
                    + " after switching off; discharge and meter before touching.</p>");
        }
        profile.cautions().forEach(text -> page.add("<p class=\"caution\">{}</p>", text));
    }

    private void digests() {
        RunHeader header = run.header();
        page.add("<h2>Digests (SHA-256)</h2><table>");
        digest("Profile at the run", header.profile());
        page.add(
                "<tr><th class=\"side\">Profile judged against</th><td>{}<div class=\"digest\">{}</div></td></tr>",
                judgement.profileId(),
                judgement.profileSha256());
        digest("Rig", header.rig());
        if (!header.calibration().text().isEmpty()) {
            digest("Calibration", header.calibration());
        }
        row("Made by", "Railproof " + header.softwareVersion());
        page.add("</table>");
    }

    private void digest(String what, SourceText source) {
        page.add(
                "<tr><th class=\"side\">{}</th><td>{}<div class=\"digest\">{}</div></td></tr>",
                what,
                source.name(),
                source.sha256());
    }

    private Optional<Instant> ended() {
        return run.events().stream()
                .filter(RunEvent.RunEnded.class::isInstance)
                .map(event -> ((RunEvent.RunEnded) event).wallTime())
                .findFirst();
    }

    private Optional<String> warmest() {
        return run.points().stream()
                .flatMap(point -> point.reading(Quantity.HEAT_SINK).measured().stream())
                .max(java.util.Comparator.comparingDouble(measured -> measured.value()))
                .map(m -> Quantities.withUncertainty(m.value(), 2 * m.standardU(), m.unit()) + " (k = 2)");
    }

    private static Unit levelUnit(String mode) {
        return switch (mode) {
            case "CV" -> Unit.VOLT;
            case "CR" -> Unit.OHM;
            default -> Unit.AMPERE;
        };
    }

    private static String span(Instant from, Instant to) {
        long seconds = Math.max(0, Duration.between(from, to).toSeconds());
        return String.format(Locale.ROOT, "%d:%02d:%02d", seconds / 3600, seconds / 60 % 60, seconds % 60);
    }
}

package railproof.report;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import railproof.base.Unit;
import railproof.judge.CalibrationState;
import railproof.judge.Judgement;
import railproof.judge.Observations;
import railproof.judge.SignOff;
import railproof.profile.LineRating;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.profile.SourceText;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunHeader;

/** What a certificate says, whatever it is printed on. Pure. */
final class CertificateFacts {
    private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss 'UTC'", Locale.ROOT)
            .withZone(ZoneOffset.UTC);

    /** A page is to be read; whatever is more than this is in the record. */
    private static final int MOST_EVENTS = 40;

    private static final double SECONDS_PER_HOUR = 3600;

    private final RunData run;
    private final Profile profile;
    private final Judgement judgement;
    private final CertificateExtras extras;

    /** One line of a list. */
    record Fact(String name, String value) {}

    /** A file the run rests on. */
    record Digest(String name, String file, String sha256) {}

    /** A graph with its title; empty if it was not measured. */
    record Figure(String title, Optional<Graph> graph) {}

    CertificateFacts(RunData run, Profile profile, Judgement judgement, CertificateExtras extras) {
        this.run = run;
        this.profile = profile;
        this.judgement = judgement;
        this.extras = extras;
    }

    /** A certificate only if nothing marks the run. */
    String heading() {
        return Words.marks(run, judgement).isEmpty() ? "Certificate of test" : "Test record (not a certificate)";
    }

    String rule() {
        return "Decision rule: " + Words.rule(judgement.rule())
                + ". U is the expanded uncertainty for a level of confidence of about 95 %. "
                + Words.TUR + ".";
    }

    List<Fact> unit() {
        RunHeader header = run.header();
        LineRating line = profile.line();
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact("Unit", header.unitSerial()));
        facts.add(new Fact("Stage", header.stage().label()));
        facts.add(new Fact("Profile", profile.title() + " (" + profile.id() + ")"));
        facts.add(new Fact("Run", header.runId()));
        facts.add(new Fact("Started", TIME.format(header.startedAt())));
        ended().ifPresent(end ->
                facts.add(new Fact("Ended", TIME.format(end) + ", after " + span(header.startedAt(), end))));
        facts.add(new Fact("Operator", header.operator().isEmpty() ? "not said" : header.operator()));
        facts.add(new Fact(
                "Line",
                Quantities.plain(line.nominalV(), Unit.VOLT) + " nominal, "
                        + Quantities.plain(line.lowV(), Unit.VOLT) + " low, "
                        + Quantities.plain(line.highV(), Unit.VOLT) + " high, "
                        + Quantities.plain(line.frequencyHz(), Unit.HERTZ)));
        warmest().ifPresent(text -> facts.add(new Fact("Heat sink, warmest", text)));
        facts.add(new Fact("At the end", Words.safeState(run.outcome().safeState())));
        facts.add(new Fact("Rig", header.rig().name()));
        facts.add(new Fact(
                "Calibration",
                (header.calibration().text().isEmpty()
                                ? ""
                                : header.calibration().name() + ": ")
                        + CalibrationState.of(run, judgement).words()));
        extras.before()
                .ifPresent(before ->
                        facts.add(new Fact("Drawn behind", before.header().runId())));
        header.instruments().forEach(instrument -> facts.add(new Fact("Instrument", instrument)));
        return facts;
    }

    /** Empty if nobody signed it off. */
    List<Fact> signOff() {
        List<Fact> facts = new ArrayList<>();
        if (extras.signOff().isPresent()) {
            SignOff signOff = extras.signOff().get();
            facts.add(new Fact("By", signOff.by()));
            facts.add(new Fact("On", TIME.format(signOff.at())));
            signOff.checked().forEach(checked -> facts.add(new Fact("Checked", checked)));
            if (!signOff.reason().isEmpty()) {
                facts.add(new Fact("Accepted because", signOff.reason()));
            }
        }
        return facts;
    }

    String railTitle(Rail rail) {
        return "Rail " + rail.name() + ": " + Quantities.plain(rail.nominalV(), Unit.VOLT) + ", "
                + Quantities.plain(rail.ratedCurrentA(), Unit.AMPERE);
    }

    boolean burntIn() {
        return run.events().stream().anyMatch(RunEvent.BurnInPlanned.class::isInstance);
    }

    /** What happened in a burn-in, with its time since the start of the run; empty for other runs. */
    List<Fact> course() {
        if (!burntIn()) {
            return List.of();
        }
        List<RunEvent> told = run.events().stream()
                .filter(event -> event instanceof RunEvent.Note || event instanceof RunEvent.Resumed)
                .toList();
        List<Fact> facts = new ArrayList<>();
        for (RunEvent event : told.subList(0, Math.min(MOST_EVENTS, told.size()))) {
            String text = event instanceof RunEvent.Resumed resumed
                    ? String.format(
                            Locale.ROOT,
                            "taken up again after a break in the record of %.0f s, on %s",
                            resumed.gapS(),
                            TIME.format(resumed.wallTime()))
                    : ((RunEvent.Note) event).text();
            facts.add(new Fact(String.format(Locale.ROOT, "%.2f h", event.elapsedS() / SECONDS_PER_HOUR), text));
        }
        if (told.size() > MOST_EVENTS) {
            facts.add(new Fact("", (told.size() - MOST_EVENTS) + " more, in the run folder's events"));
        }
        return facts;
    }

    List<Figure> figures(Rail rail) {
        return burntIn() ? hours(rail) : sweeps(rail);
    }

    private List<Figure> hours(Rail rail) {
        BurnInCurves curves = new BurnInCurves(run, rail, profile.plan().burnIn());
        String max = profile.plan().burnIn().heatSinkMaxC().isPresent() ? "; the grey band is allowed" : "";
        return List.of(
                new Figure(
                        "Output over the hours; the grey band is how far it may drift from its first hot reading,"
                                + " at a dotted line the load had been off (cold start, pause or break)",
                        curves.output()),
                new Figure("Ripple over the hours; the grey band is allowed", curves.ripple()),
                new Figure("Heat sink over the hours" + max, curves.heatSink()));
    }

    private List<Figure> sweeps(Rail rail) {
        Curves curves = new Curves(run, rail, extras.before());
        String range = rail.limits()
                .currentLimitA()
                .map(band -> "; the grey band is where it must set in")
                .orElse("");
        String load = curves.heaviest()
                .map(point -> ", load asked for: " + point.asked().mode() + " "
                        + Quantities.plain(
                                point.asked().level(), levelUnit(point.asked().mode())))
                .orElse("");
        List<Figure> figures = new ArrayList<>(List.of(
                new Figure("Output over load; the grey band is allowed, bars are U (k = 2)", curves.load()),
                new Figure("Current limit" + range, curves.limit()),
                new Figure("Ripple" + load, curves.ripple())));
        figures.addAll(changes(rail));
        return figures;
    }

    /** Only of what was measured: most profiles ask for few of these. */
    private List<Figure> changes(Rail rail) {
        ChangeCurves changes = new ChangeCurves(run, rail, profile.line().frequencyHz());
        return Stream.of(
                        new Figure("First power-up: line in steps, without load", changes.firstPowerUp()),
                        new Figure("Output over line at full load", changes.dropout()),
                        new Figure("Load step, time since the output answers", changes.loadStep()),
                        new Figure("Hold-up, time since line off; the grey band is allowed", changes.holdUp()),
                        new Figure("Start-up, time since line on; the grey band is allowed", changes.startUp()))
                .filter(figure -> figure.graph().isPresent())
                .toList();
    }

    /** What each procedure did on a rail. */
    List<SectionTables.Table> tables(Rail rail) {
        return new SectionTables(run, judgement, rail).all();
    }

    /** What was noticed on a rail beside what is judged. */
    List<String> seen(Rail rail) {
        return Observations.of(run).stream()
                .filter(seen -> seen.rail().equals(rail.name()))
                .map(seen -> seen.title() + " (seen, not judged): " + seen.words() + ".")
                .toList();
    }

    List<String> cautions() {
        List<String> cautions = new ArrayList<>();
        if (profile.rails().stream().anyMatch(Rail::hazardousLive)) {
            cautions.add("Hazardous live: an output can exceed 60 V d.c. Capacitors stay charged"
                    + " after switching off; discharge and meter before touching.");
        }
        cautions.addAll(profile.cautions());
        return cautions;
    }

    List<Digest> digests() {
        RunHeader header = run.header();
        List<Digest> digests = new ArrayList<>();
        digests.add(digest("Profile at the run", header.profile()));
        digests.add(new Digest("Profile judged against", judgement.profileId(), judgement.profileSha256()));
        digests.add(digest("Rig", header.rig()));
        if (!header.calibration().text().isEmpty()) {
            digests.add(digest("Calibration", header.calibration()));
        }
        if (!extras.recordSha256().isEmpty()) {
            digests.add(new Digest("Record, as sealed", "", extras.recordSha256()));
        }
        return digests;
    }

    private static Digest digest(String what, SourceText source) {
        return new Digest(what, source.name(), source.sha256());
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
                .max(Comparator.comparingDouble(measured -> measured.value()))
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

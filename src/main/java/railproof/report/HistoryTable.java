package railproof.report;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.archive.ArchivedRun;
import railproof.record.CsvExport;

/** Archived runs as plain text for a terminal, at most 100 columns wide, and for spreadsheets. Pure. */
public final class HistoryTable {
    private static final List<Integer> WIDTHS = List.of(16, 17, 20, 9, 16, 17);
    private static final DateTimeFormatter MINUTE =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm", Locale.ROOT).withZone(ZoneOffset.UTC);

    private HistoryTable() {}

    /**
     * The runs in the order given; ends with a line end.
     *
     * @param all how many there are, shown here or not
     */
    public static String text(List<ArchivedRun> runs, long all) {
        TextTable table = new TextTable(WIDTHS);
        table.rule()
                .row(List.of("Started (UTC)", "Unit", "Type", "Stage", "Verdict", "Signed off"))
                .rule();
        for (ArchivedRun run : runs) {
            table.row(List.of(
                    MINUTE.format(run.startedAt()),
                    run.unitSerial(),
                    run.profileId(),
                    run.stage(),
                    verdict(run),
                    signed(run)));
        }
        table.rule();
        String shown = all > runs.size()
                ? "The newest " + runs.size() + " of " + all + " runs."
                : all == 1 ? "1 run." : all + " runs.";
        return table.remark(0, shown).toString();
    }

    /** The verdict with what else has to be known of it, a line each. */
    public static String verdict(ArchivedRun run) {
        StringBuilder text = new StringBuilder(run.verdict().replace('-', ' '));
        if (run.kind().equals(ArchivedRun.BURN_IN)) {
            text.append("\nburn-in");
        }
        if (!run.outcome().equals("completed")) {
            text.append('\n').append(run.outcome());
        }
        if (!run.safeState().equals("confirmed")) {
            text.append("\nUNSAFE END");
        }
        return run.simulated() ? text.append("\nSIMULATED").toString() : text.toString();
    }

    /** Who signed it off, and when; empty if nobody. */
    public static String signed(ArchivedRun run) {
        String day = run.signedAt()
                .map(at -> " " + MINUTE.format(at).substring(0, 10))
                .orElse("");
        return run.signedBy() + day + (run.training() ? " TRAINING" : "");
    }

    /** One row for each run, in the order given. */
    public static String csv(List<ArchivedRun> runs) {
        CsvExport csv = new CsvExport(List.of(
                "started_at_utc",
                "ended_at_utc",
                "unit_serial",
                "type",
                "stage",
                "kind",
                "verdict",
                "outcome",
                "cause",
                "safe_state",
                "simulated",
                "signed_off_by",
                "signed_off_at_utc",
                "training",
                "operator",
                "rig",
                "software_version",
                "run_id",
                "folder"));
        for (ArchivedRun run : runs) {
            csv.row(List.of(
                    run.startedAt().toString(),
                    run.endedAt().map(Instant::toString),
                    run.unitSerial(),
                    run.profileId(),
                    run.stage(),
                    run.kind(),
                    run.verdict(),
                    run.outcome(),
                    run.cause(),
                    run.safeState(),
                    run.simulated(),
                    run.signedBy(),
                    run.signedAt().map(Instant::toString),
                    run.training(),
                    run.operator(),
                    run.rig(),
                    run.softwareVersion(),
                    run.runId(),
                    run.folder()));
        }
        return csv.toString();
    }

    /** A number to three digits, or a dash. */
    static String number(Optional<Double> value) {
        return value.map(v -> String.format(Locale.ROOT, "%.2f", v)).orElse("–");
    }
}

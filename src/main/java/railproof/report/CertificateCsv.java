package railproof.report;

import java.util.List;
import java.util.Optional;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.SignOff;
import railproof.record.CsvExport;
import railproof.run.RunData;
import railproof.run.RunHeader;

/** The checks of a certificate for spreadsheets: one row each, values and limits in SI units. Pure. */
public final class CertificateCsv {
    /** Its file name inside a run folder. */
    public static final String FILE = "certificate.csv";

    private CertificateCsv() {}

    /** The table. */
    public static String text(RunData run, Judgement judgement, CertificateExtras extras) {
        CsvExport csv = new CsvExport(List.of(
                "belongs_to",
                "record_sha256",
                "marks",
                "unit_serial",
                "stage",
                "profile",
                "started_at_utc",
                "overall_verdict",
                "signed_off_by",
                "rail",
                "check",
                "title",
                "value",
                "expanded_u",
                "coverage_factor",
                "limit_low",
                "limit_high",
                "unit",
                "verdict",
                "detail"));
        RunHeader header = run.header();
        for (Check check : judgement.checks()) {
            Optional<Double> value = check.value().measured().map(measured -> measured.value());
            csv.row(List.of(
                    Words.RUN_MARK + header.runId(),
                    extras.recordSha256(),
                    String.join("; ", Words.marks(run, judgement)),
                    header.unitSerial(),
                    header.stage().label(),
                    judgement.profileId(),
                    header.startedAt().toString(),
                    Words.verdict(run, judgement),
                    extras.signOff().map(SignOff::by),
                    check.rail(),
                    check.id(),
                    check.title(),
                    value,
                    value.map(v -> check.expandedU()),
                    value.map(v -> check.coverageDimensionless()),
                    check.limit().low(),
                    check.limit().high(),
                    check.unit().symbol(),
                    check.verdict().words(),
                    check.detail()));
        }
        return csv.toString();
    }
}

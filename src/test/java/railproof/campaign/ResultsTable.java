package railproof.campaign;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;

/** A campaign's results, for people: one row per fault, and a summary by effect. */
final class ResultsTable {
    private static final List<String> HEADING = List.of(
            "procedure",
            "phase",
            "effect",
            "link",
            "exchange",
            "seed",
            "struck",
            "end",
            "safe_state",
            "exit_status",
            "off_at_end",
            "off_later",
            "good",
            "cause",
            "complaints");

    private ResultsTable() {}

    /** Writes {@code results.csv} and {@code summary.txt}; returns the summary. */
    static String write(Path folder, List<Finding> findings, long seed) throws IOException {
        Files.createDirectories(folder);
        StringBuilder csv = new StringBuilder(CSVFormat.RFC4180.format(HEADING.toArray())).append("\r\n");
        findings.forEach(finding -> csv.append(row(finding)).append("\r\n"));
        Files.writeString(folder.resolve("results.csv"), csv, StandardCharsets.UTF_8);
        String summary = summary(findings, seed);
        Files.writeString(folder.resolve("summary.txt"), summary, StandardCharsets.UTF_8);
        return summary;
    }

    private static String row(Finding f) {
        return CSVFormat.RFC4180.format(
                f.injection().phase().procedure(),
                f.injection().phase().step(),
                f.injection().effect(),
                f.injection().link(),
                f.injection().exchange(),
                f.injection().seed(),
                f.outcome().struck(),
                f.end(),
                f.safeState(),
                f.status(),
                !f.outcome().atEnd().lineLive() && f.outcome().atEnd().loadCurrentA() == 0,
                !f.outcome().later().lineLive() && f.outcome().later().loadCurrentA() == 0,
                f.good(),
                f.cause(),
                String.join("; ", f.complaints()));
    }

    private static String summary(List<Finding> findings, long seed) {
        Map<String, List<Finding>> byEffect = findings.stream()
                .collect(Collectors.groupingBy(f -> f.injection().effect().name(), TreeMap::new, Collectors.toList()));
        StringBuilder text = new StringBuilder(String.format(
                Locale.ROOT,
                "Fault campaign: %d faults, seed %d, everything off %d times, status and cause right %d times%n%n",
                findings.size(),
                seed,
                findings.stream()
                        .filter(f -> !f.outcome().later().lineLive()
                                && f.outcome().later().loadCurrentA() == 0)
                        .count(),
                findings.stream().filter(Finding::good).count()));
        text.append(String.format(
                Locale.ROOT,
                "%-28s %6s %9s %8s %8s %8s %9s %9s %8s%n",
                "effect",
                "faults",
                "completed",
                "tripped",
                "stopped",
                "faulted",
                "not begun",
                "confirmed",
                "good"));
        byEffect.forEach((effect, all) -> text.append(String.format(
                Locale.ROOT,
                "%-28s %6d %9d %8d %8d %8d %9d %9d %8d%n",
                effect.toLowerCase(Locale.ROOT).replace('_', '-'),
                all.size(),
                count(all, "COMPLETED"),
                count(all, "TRIPPED"),
                count(all, "STOPPED"),
                count(all, "FAULTED"),
                count(all, "NOT_BEGUN"),
                all.stream().filter(f -> f.safeState().equals("CONFIRMED")).count(),
                all.stream().filter(Finding::good).count())));
        return text.toString();
    }

    private static long count(List<Finding> all, String end) {
        return all.stream().filter(f -> f.end().equals(end)).count();
    }
}

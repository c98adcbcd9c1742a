package railproof.cli;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import railproof.app.Archiving;
import railproof.app.ExitStatus;
import railproof.archive.ArchivedRun;
import railproof.archive.RunFilter;
import railproof.archive.TypeStatistics;
import railproof.archive.store.Archive;
import railproof.archive.store.ArchiveException;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.judge.Verdict;
import railproof.record.RecordException;
import railproof.report.HistoryTable;
import railproof.report.StatisticsTable;
import railproof.run.Stage;

/** {@code railproof history}: what was tested, and what it says together. */
@Command(
        name = "history",
        mixinStandardHelpOptions = true,
        description = {
            "Lists archived runs, the newest first: by unit, type, date, verdict. With --statistics, what the runs of"
                    + " each type say together: first-pass yield, shift by the repair, capability against the limits,"
                    + " common causes of failure; of real units only, unless --simulated asks for the others.",
            ""
        },
        footer = {
            "",
            "Exit status: 0; 2 bad command line; 3 the archive cannot be reached.",
            "",
            "Example:  railproof history --type counter-5v --from 2026-01-01 --statistics"
        })
final class HistoryCommand implements Callable<Integer> {
    private final Screen screen;

    @Mixin
    private ArchiveOption archive = new ArchiveOption();

    @Option(names = "--unit", paramLabel = "SERIAL", description = "of this unit")
    private Optional<String> unit = Optional.empty();

    @Option(names = "--type", paramLabel = "PROFILE", description = "of this type, by its profile's name")
    private Optional<String> type = Optional.empty();

    @Option(
            names = "--verdict",
            paramLabel = "VERDICT",
            description = "pass, conditional-pass, not-judged, conditional-fail or fail")
    private Optional<String> verdict = Optional.empty();

    @Option(names = "--stage", paramLabel = "STAGE", description = "as-found or as-left")
    private Optional<String> stage = Optional.empty();

    @Option(names = "--from", paramLabel = "DATE", description = "started on this day or later (UTC), as 2026-11-25")
    private Optional<String> from = Optional.empty();

    @Option(names = "--to", paramLabel = "DATE", description = "started on this day or before (UTC)")
    private Optional<String> to = Optional.empty();

    @Option(names = "--simulated", description = "simulated runs only")
    private boolean simulated;

    @Option(
            names = "--most",
            paramLabel = "COUNT",
            defaultValue = "50",
            description = "list at most so many runs; default: ${DEFAULT-VALUE}")
    private int most = 50;

    @Option(names = "--statistics", description = "what the runs of each type say together")
    private boolean statistics;

    @Option(names = "--csv", description = "print for a spreadsheet")
    private boolean csv;

    @Option(names = "--json", description = "print as JSON")
    private boolean json;

    @Mixin
    private DataOption data = new DataOption();

    HistoryCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, ArchiveException, RecordException {
        RunFilter filter = filter();
        Archiving archiving = archive.archiving(Optional.empty(), data.directory());
        try (Archive open = archiving.open()) {
            archiving.troubles().forEach(screen::say);
            if (statistics) {
                statistics(open, filter);
            } else {
                list(open, filter);
            }
        }
        return ExitStatus.PASSED.code();
    }

    private void list(Archive open, RunFilter filter) throws ArchiveException {
        List<ArchivedRun> runs = open.runs(filter, most);
        if (json) {
            screen.out().print(HistoryJson.runs(runs));
        } else if (csv) {
            screen.out().print(HistoryTable.csv(runs));
        } else {
            screen.out().print(HistoryTable.text(runs, open.count(filter)));
        }
    }

    private void statistics(Archive open, RunFilter filter) throws ArchiveException {
        List<TypeStatistics> all = new ArrayList<>();
        for (String one : type.isPresent() ? List.of(type.get()) : open.types()) {
            RunFilter ofType = new RunFilter(
                    filter.unitSerial(),
                    Optional.of(one),
                    filter.verdict(),
                    filter.stage(),
                    filter.from(),
                    filter.until(),
                    Optional.of(simulated));
            List<ArchivedRun> runs = open.runs(ofType, Integer.MAX_VALUE);
            if (!runs.isEmpty()) {
                all.add(TypeStatistics.of(one, runs, open.checks(ofType)));
            }
        }
        if (all.isEmpty()) {
            screen.say(
                    simulated ? "There are no simulated runs." : "There are no runs of real units (see --simulated).");
        }
        if (json) {
            screen.out().print(HistoryJson.statistics(all));
        } else if (csv) {
            screen.out().print(StatisticsTable.csv(all));
        } else {
            screen.out().print(all.stream().map(StatisticsTable::text).collect(Collectors.joining("\n")));
        }
    }

    private RunFilter filter() throws BadFileException {
        List<Problem> problems = new ArrayList<>();
        List<String> verdicts =
                Arrays.stream(Verdict.values()).map(ArchivedRun::word).toList();
        verdict.filter(text -> !verdicts.contains(text))
                .ifPresent(text -> problems.add(problem("--verdict", text, String.join(", ", verdicts))));
        stage.filter(text -> Stage.ofLabel(text).isEmpty())
                .ifPresent(text -> problems.add(problem("--stage", text, "as-found or as-left")));
        if (most < 1) {
            problems.add(problem("--most", String.valueOf(most), "1 or more"));
        }
        Optional<Instant> first = day("--from", from, 0, problems);
        Optional<Instant> end = day("--to", to, 1, problems);
        if (first.isPresent() && end.isPresent() && !first.get().isBefore(end.get())) {
            problems.add(problem("--to", to.orElse(""), "the day of --from or later"));
        }
        if (!problems.isEmpty()) {
            throw new BadFileException(problems);
        }
        return new RunFilter(unit, type, verdict, stage, first, end, simulated ? Optional.of(true) : Optional.empty());
    }

    private static Optional<Instant> day(String option, Optional<String> text, int plusDays, List<Problem> problems) {
        try {
            return text.map(day -> LocalDate.parse(day)
                    .plusDays(plusDays)
                    .atStartOfDay(ZoneOffset.UTC)
                    .toInstant());
        } catch (DateTimeException e) {
            problems.add(problem(option, text.orElse(""), "a date such as 2026-11-25"));
            return Optional.empty();
        }
    }

    private static Problem problem(String option, String found, String allowed) {
        return new Problem(
                "command line", 0, 0, option, String.format(Locale.ROOT, "must be %s, found \"%s\"", allowed, found));
    }
}

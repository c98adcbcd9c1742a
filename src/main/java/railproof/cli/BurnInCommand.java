package railproof.cli;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import railproof.app.BurnInRequest;
import railproof.app.BurnInResult;
import railproof.app.BurnInService;
import railproof.app.ExitStatus;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.BurnInPlan;
import railproof.profile.ProfileFile;
import railproof.profile.Rail;
import railproof.record.RunJson;
import railproof.report.VerdictTable;
import railproof.rig.file.Placement;
import railproof.rig.file.RigFile;
import railproof.run.Stage;

/** {@code railproof burn-in}: hours under load. */
@Command(
        name = "burn-in",
        mixinStandardHelpOptions = true,
        description = {
            "Burns in one or more repaired units: hours under load with cold starts, a row every few seconds, early"
                    + " warning by trend, readings hot and after cooling. The plan is the profile's [plan.burn_in].",
            "",
            "Several units at once: repeat --rig, --profile and --unit together, each unit on a rig of its own.",
            "At the keyboard, with Enter: p UNIT pauses a unit (load and line off, its time stands still), c UNIT"
                    + " continues it, s UNIT stops it. Ctrl-C stops all. A run that broke off (crash, power cut) is"
                    + " taken up again with --resume FOLDER; nothing ever resumes by itself.",
            ""
        },
        footer = {
            "",
            "Example:  railproof burn-in --rig bench-a.toml --profile counter-5v --unit LC-2107 \\",
            "                            --rig bench-b.toml --profile tape-24v --unit TM-0417 --hours 8"
        })
final class BurnInCommand implements Callable<Integer> {
    private static final double MS_PER_HOUR = 3_600_000;

    private final Screen screen;

    @Mixin
    private ArchiveOption archive = new ArchiveOption();

    /** One unit and its rig. */
    static final class UnitOptions {
        @Option(names = "--rig", required = true, paramLabel = "FILE", description = "rig file, or a built-in name")
        private String rig = "";

        @Option(
                names = "--profile",
                required = true,
                paramLabel = "FILE",
                description = "profile file, or a built-in name")
        private String profile = "";

        @Option(names = "--unit", required = true, paramLabel = "SERIAL", description = "serial number of the unit")
        private String unit = "";

        @Option(names = "--resume", paramLabel = "FOLDER", description = "run folder of this unit that broke off")
        private String resume = "";

        @Option(
                names = "--sim-fault",
                paramLabel = "NAME[:SEVERITY]",
                description = "simulated bench only: break this simulated unit; an unknown name lists all")
        private String simFault = "";

        // fields that are Optional cannot be in a group that may be left out: the parser then fails over its help
        private Optional<Path> resume() {
            return resume.isEmpty() ? Optional.empty() : Optional.of(Path.of(resume));
        }

        private Optional<String> simFault() {
            return simFault.isEmpty() ? Optional.empty() : Optional.of(simFault);
        }
    }

    @ArgGroup(exclusive = false, multiplicity = "1..*")
    private List<UnitOptions> units = new ArrayList<>();

    @Option(names = "--hours", paramLabel = "H", description = "time under load, if not the profile's")
    private Optional<Double> hours = Optional.empty();

    @Mixin
    private RunOptions options = new RunOptions();

    BurnInCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException {
        Optional<Duration> time = time();
        List<BurnInRequest> requests = new ArrayList<>();
        List<Problem> problems = new ArrayList<>();
        for (UnitOptions unit : units) {
            RigFile rig = Inputs.rig(unit.rig);
            ProfileFile profile = Inputs.profile(unit.profile);
            problems.addAll(Placement.of(rig.config(), profile.profile()).problems());
            requests.add(new BurnInRequest(
                    new RunRequest(
                            rig,
                            profile,
                            unit.unit,
                            Stage.AS_LEFT,
                            options.operator(),
                            options.data(),
                            unit.simFault(),
                            options.realTime()),
                    time,
                    unit.resume()));
        }
        if (!problems.isEmpty()) {
            throw new BadFileException(problems);
        }
        return run(requests, new BurnInService(requests));
    }

    private Optional<Duration> time() throws BadFileException {
        if (hours.isPresent() && !(hours.get() >= 0.01 && hours.get() <= BurnInPlan.MOST_HOURS)) {
            throw new BadFileException(List.of(new Problem(
                    "command line",
                    0,
                    0,
                    "--hours",
                    "must be 0.01 to " + BurnInPlan.MOST_HOURS + "; found " + hours.get())));
        }
        return hours.map(h -> Duration.ofMillis(Math.round(h * MS_PER_HOUR)));
    }

    private int run(List<BurnInRequest> requests, BurnInService service) throws BadFileException {
        requests.forEach(this::introduce);
        screen.say("");
        screen.say("Keys, each with Enter: " + BurnInKeyboard.COMMANDS + "; Ctrl-C stops all");
        screen.say("");
        BurnInKeyboard keyboard = new BurnInKeyboard(screen, service.control());
        keyboard.listen();
        try (SignalExit signal = new SignalExit(screen)) {
            List<BurnInResult> results =
                    service.run(keyboard::operator, new BurnInLines(screen, service.control(), onTerminal()));
            ExitStatus worst = BurnInService.worst(results);
            signal.status(worst);
            show(results);
            for (int i = 0; i < results.size(); i++) {
                archive(requests.get(i), results.get(i));
            }
            return worst.code();
        }
    }

    private void archive(BurnInRequest request, BurnInResult result) throws BadFileException {
        if (result.run().isPresent()) {
            archive.archiving(request.run().rig().config().archiveUrl(), options.data())
                    .changed(result.run().get().folder())
                    .forEach(screen::say);
        }
    }

    @SuppressWarnings("SystemConsoleNull") // later Javas answer for no terminal too; then there are more lines, no harm
    private static boolean onTerminal() {
        return System.console() != null;
    }

    private void introduce(BurnInRequest request) {
        screen.say("Unit " + request.run().unitSerial() + " on rig "
                + request.run().rig().config().name() + ": "
                + request.run().profile().profile().title());
        if (request.run().rig().config().simulation().isPresent()) {
            screen.say("  SIMULATED. Nothing here says anything of a real unit.");
        }
        for (String caution : request.run().profile().profile().cautions()) {
            screen.sayWrapped("  Caution: " + caution, 4);
        }
        if (request.run().profile().profile().rails().stream().anyMatch(Rail::hazardousLive)) {
            screen.sayWrapped(
                    "  Caution: more than 60 V d.c.; its capacitors stay charged afterwards. Measure before you touch.",
                    4);
        }
    }

    private void show(List<BurnInResult> results) {
        if (options.json()) {
            screen.print(results.stream()
                    .flatMap(result -> result.run().stream())
                    .map(run -> RunJson.result(run.run(), run.judgement()).strip())
                    .collect(Collectors.joining(",\n", "[", "]")));
        }
        for (BurnInResult result : results) {
            result.trouble().ifPresent(trouble -> {
                screen.say("");
                screen.say("Unit " + result.unitSerial() + ":");
                Troubles.tell(screen, trouble);
            });
            result.run().ifPresent(run -> show(result, run));
        }
        screen.flush();
    }

    private void show(BurnInResult result, RunResult run) {
        if (!options.json()) {
            run.judgement().ifPresent(judgement -> screen.out().print(VerdictTable.text(run.run(), judgement)));
        }
        screen.say("Record: " + run.folder());
        run.troubles().forEach(screen::say);
        if (!run.run().outcome().completed()) {
            screen.say("Unit " + result.unitSerial() + " ended early: "
                    + run.run().outcome().cause());
        }
        if (result.status() == ExitStatus.NOT_SAFE) {
            screen.say("*** UNIT " + result.unitSerial() + ": NOT CONFIRMED THAT LOAD AND LINE ARE OFF."
                    + " Switch its mains off by hand, then look. ***");
        }
    }
}

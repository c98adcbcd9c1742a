package railproof.cli;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import railproof.app.BenchAccess;
import railproof.app.Benches;
import railproof.app.ExitStatus;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.app.RunService;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.profile.Rail;
import railproof.record.RecordException;
import railproof.record.RunJson;
import railproof.report.VerdictTable;
import railproof.rig.file.Placement;
import railproof.rig.file.RigFile;
import railproof.run.SafeState;
import railproof.run.Stage;
import railproof.wire.LinkException;

/** {@code railproof test}: the main job. */
@Command(
        name = "test",
        mixinStandardHelpOptions = true,
        description = {
            "Qualifies one unit: no-load check, load sweep, line sweep, current limit; judges it against the profile.",
            "",
            "Before: load leads on the unit's terminals with the load off, sense leads at the terminals, mains through"
                    + " the rig, covers where the profile's cautions ask for them. The tool says what it does next;"
                    + " Ctrl-C takes the load off at once.",
            ""
        },
        footer = {
            "",
            "Example:  railproof test --rig rigs/one-rail-bench.toml --profile rigs/profiles/tape-24v.toml \\",
            "                         --unit TM-0417 --stage as-found --operator mk"
        })
final class TestCommand implements Callable<Integer> {
    private final Screen screen;

    @Mixin
    private ArchiveOption archive = new ArchiveOption();

    @Option(
            names = "--rig",
            required = true,
            paramLabel = "FILE",
            description = "rig file, or the name of one that comes with the program (simulated-bench)")
    private String rig = "";

    @Option(
            names = "--profile",
            required = true,
            paramLabel = "FILE",
            description = "profile file, or the name of one that comes with the program (counter-5v)")
    private String profile = "";

    @Option(names = "--unit", required = true, paramLabel = "SERIAL", description = "serial number of the unit")
    private String unit = "";

    @Option(
            names = "--stage",
            paramLabel = "STAGE",
            defaultValue = "as-left",
            description = "as-found (before the repair) or as-left (after it); default: as-left")
    private String stage = "as-left";

    @Mixin
    private RunOptions options = new RunOptions();

    @Option(
            names = "--sim-fault",
            paramLabel = "NAME[:SEVERITY]",
            description = "simulated bench only: break the simulated unit, e.g. reservoir-low-capacitance:0.8; "
                    + "an unknown name lists all")
    private Optional<String> simFault = Optional.empty();

    TestCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, LinkException, RecordException {
        RigFile rigFile = Inputs.rig(rig);
        ProfileFile profileFile = Inputs.profile(profile);
        Stage stageAsked = Stage.ofLabel(stage)
                .orElseThrow(() -> new BadFileException(List.of(new Problem(
                        "command line", 0, 0, "--stage", "\"" + stage + "\" is neither as-found nor as-left"))));
        List<Problem> misfits =
                Placement.of(rigFile.config(), profileFile.profile()).problems();
        if (!misfits.isEmpty()) {
            throw new BadFileException(misfits);
        }
        archive.archiving(rigFile.config().archiveUrl(), options.data());
        RunRequest request = new RunRequest(
                rigFile,
                profileFile,
                unit,
                stageAsked,
                options.operator(),
                options.data(),
                simFault,
                options.realTime());
        return run(request, Benches.open(request));
    }

    private int run(RunRequest request, BenchAccess bench) throws LinkException, RecordException, BadFileException {
        RunService service = new RunService(request, bench);
        introduce(request, bench);
        try (KeyboardOperator person = new KeyboardOperator(screen);
                SignalExit signal = new SignalExit(screen)) {
            RunResult result = service.run(
                    person, new ProgressLines(screen, request.profile().profile()));
            signal.status(result.status());
            show(result);
            archive.archiving(request.rig().config().archiveUrl(), options.data())
                    .changed(result.folder())
                    .forEach(screen::say);
            return result.status().code();
        }
    }

    private void introduce(RunRequest request, BenchAccess bench) {
        screen.say("Unit " + request.unitSerial() + " (" + request.stage().label() + "): "
                + request.profile().profile().title());
        screen.say("Rig " + request.rig().config().name() + ": "
                + request.rig().config().title());
        if (bench.simulated()) {
            screen.say("SIMULATED: " + bench.simulatedUnit() + ". Nothing here says anything of a real unit.");
        }
        for (String caution : request.profile().profile().cautions()) {
            screen.sayWrapped("Caution: " + caution, 2);
        }
        if (request.profile().profile().rails().stream().anyMatch(Rail::hazardousLive)) {
            screen.sayWrapped(
                    "Caution: this unit carries more than 60 V d.c.; after the run its capacitors stay charged."
                            + " Measure before you touch. Local codes and licensed practice come first.",
                    2);
        }
        screen.say("");
    }

    private void show(RunResult result) {
        if (options.json()) {
            screen.print(RunJson.result(result.run(), result.judgement()));
        } else {
            result.judgement().ifPresent(judgement -> screen.out().print(VerdictTable.text(result.run(), judgement)));
        }
        screen.say("");
        screen.say("Record: " + result.folder());
        result.troubles().forEach(screen::say);
        if (!result.run().outcome().completed()) {
            screen.say("Ended early: " + result.run().outcome().cause());
        }
        if (result.status() == ExitStatus.NOT_SAFE) {
            boolean commanded = result.run().outcome().safeState() == SafeState.COMMANDED;
            screen.say("");
            screen.say("*** NOT CONFIRMED THAT LOAD AND LINE ARE OFF. "
                    + (commanded ? "OFF was sent, nothing answered." : "OFF could not even be sent.")
                    + " Switch the unit's mains off by hand, then look. ***");
        }
        screen.flush();
    }
}

package railproof.cli;

import java.nio.file.Path;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import railproof.app.ExitStatus;
import railproof.app.Sealing;
import railproof.base.BadFileException;
import railproof.diagnosis.Diagnosis;
import railproof.diagnosis.Dictionary;
import railproof.diagnosis.PartFit;
import railproof.diagnosis.Priors;
import railproof.diagnosis.Readings;
import railproof.diagnosis.RunReadings;
import railproof.profile.Profile;
import railproof.profile.ProfileFile;
import railproof.profile.Rail;
import railproof.profile.UnitPart;
import railproof.record.DiagnosisJson;
import railproof.record.DictionaryFile;
import railproof.record.ReadingsCsv;
import railproof.record.RecordException;
import railproof.record.Repairs;
import railproof.record.RunFolder;
import railproof.report.DiagnosisText;
import railproof.run.RunData;
import railproof.run.RunOutcome;

/** {@code railproof diagnose}: which stage is bad. */
@Command(
        name = "diagnose",
        mixinStandardHelpOptions = true,
        description = {
            "Works back from what was measured to the stage and part that explain it: suspects in order, what speaks for"
                    + " and against each, and which node to probe next. From an archived run, from a file of readings, or"
                    + " from a meter's readings typed in one by one. Needs no hardware.",
            ""
        },
        footerHeading = "%nExit status:%n",
        footer = {
            "  0  nothing is unlike a sound unit",
            "  1  one part is more probable than everything else together",
            "  2  bad command line, or a file that cannot be used",
            "  4  something is wrong, but these readings do not say which part"
        })
final class DiagnoseCommand implements Callable<Integer> {
    private final Screen screen;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Parameters(
            arity = "0..1",
            paramLabel = "RUN",
            description =
                    "run folder, or its name in the data directory; without it readings come from --readings or the"
                            + " keyboard")
    private Optional<String> run = Optional.empty();

    @Option(
            names = "--profile",
            paramLabel = "FILE",
            description = "profile: a file, or the name of one that comes with the program; needed without RUN")
    private Optional<String> profile = Optional.empty();

    @Option(
            names = "--readings",
            paramLabel = "FILE",
            description =
                    "CSV file of readings; headings: rail, condition, output_voltage_V, ripple_pp_V, raw_voltage_V,"
                            + " raw_ripple_pp_V, base_voltage_V, reference_voltage_V, sense_tap_voltage_V, ... (see rigs/README.md)")
    private Optional<Path> readings = Optional.empty();

    @Option(names = "--rail", paramLabel = "NAME", description = "only this rail; default: all that were read")
    private Optional<String> rail = Optional.empty();

    @Option(names = "--guided", description = "ask for further readings at the keyboard, node by node")
    private boolean guided;

    @Option(
            names = "--confirm",
            paramLabel = "PART",
            description =
                    "keep in the run folder which part it was; later diagnoses of this type of supply learn from it")
    private Optional<String> confirm = Optional.empty();

    @Mixin
    private DataOption data = new DataOption();

    @Option(names = "--json", description = "print the result as JSON")
    private boolean json;

    DiagnoseCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, RecordException {
        if (run.isPresent() && readings.isPresent()) {
            throw new ParameterException(spec.commandLine(), "either RUN or --readings, not both");
        }
        if (run.isEmpty() && profile.isEmpty()) {
            throw new ParameterException(spec.commandLine(), "either RUN or --profile is needed");
        }
        if (confirm.isPresent() && run.isEmpty()) {
            throw new ParameterException(spec.commandLine(), "--confirm needs RUN: the word is kept in its folder");
        }
        Optional<Path> folder =
                run.isPresent() ? Optional.of(Inputs.run(run.get(), data.directory())) : Optional.empty();
        Optional<RunData> archived = folder.isPresent() ? Optional.of(RunFolder.read(folder.get())) : Optional.empty();
        Profile type = type(archived).profile();
        if (confirm.isPresent() && folder.isPresent() && archived.isPresent()) {
            return confirm(folder.get(), type, confirm.get());
        }
        Map<Rail, Readings> read = read(archived, type);
        boolean ask = guided || (run.isEmpty() && readings.isEmpty());
        Priors priors = Priors.of(type.faultWeights(), Repairs.confirmed(data.directory(), type.id()));
        Map<Rail, DiagnosisJson.OfRail> results = new LinkedHashMap<>();
        for (Rail each : rails(type, read, ask)) {
            Dictionary dictionary = DictionaryFile.of(
                    data.directory(),
                    each,
                    type.line(),
                    () -> screen.say(
                            "Working out what faults of " + each.name() + " look like; kept for the next time"));
            Readings known = read.getOrDefault(each, Readings.none());
            if (ask) {
                known = new GuidedProbing(screen, type, each, dictionary, priors).from(known);
            }
            Diagnosis diagnosis = Diagnosis.of(dictionary, priors, known);
            results.put(each, new DiagnosisJson.OfRail(diagnosis, PartFit.of(each, type.line(), diagnosis)));
        }
        print(archived, type, results);
        return status(results).code();
    }

    private ProfileFile type(Optional<RunData> archived) throws BadFileException {
        if (profile.isPresent() || archived.isEmpty()) {
            return Inputs.profile(profile.orElse(""));
        }
        return ProfileFile.parse(archived.get().header().profile());
    }

    private Map<Rail, Readings> read(Optional<RunData> archived, Profile type) throws BadFileException {
        if (readings.isPresent()) {
            return ReadingsCsv.read(readings.get(), type);
        }
        Map<Rail, Readings> read = new LinkedHashMap<>();
        archived.ifPresent(data -> {
            for (Rail each : type.rails()) {
                Readings found = RunReadings.of(data, type, each);
                if (!found.values().isEmpty()) {
                    read.put(each, found);
                }
            }
        });
        return read;
    }

    private List<Rail> rails(Profile type, Map<Rail, Readings> read, boolean ask) {
        if (rail.isPresent()) {
            return type.rails().stream()
                    .filter(each -> each.name().equals(rail.get()))
                    .findFirst()
                    .map(List::of)
                    .orElseThrow(() -> new ParameterException(
                            spec.commandLine(),
                            "no rail \"" + rail.get() + "\"; there are: "
                                    + String.join(
                                            ", ",
                                            type.rails().stream()
                                                    .map(Rail::name)
                                                    .toList())));
        }
        if (ask && type.rails().size() > 1) {
            throw new ParameterException(spec.commandLine(), "this supply has several rails: name one with --rail");
        }
        List<Rail> rails = ask ? type.rails() : List.copyOf(read.keySet());
        if (rails.isEmpty()) {
            throw new ParameterException(
                    spec.commandLine(), "the run holds no reading of any rail; try --guided with a meter");
        }
        return rails;
    }

    private void print(Optional<RunData> archived, Profile type, Map<Rail, DiagnosisJson.OfRail> results) {
        String subject = archived.map(r -> r.header().runId()).orElse(type.id());
        if (json) {
            screen.print(DiagnosisJson.write(subject, results));
            return;
        }
        archived.filter(r -> !r.outcome().completed()).ifPresent(r -> {
            screen.print("The run did not end as planned: " + r.outcome().cause());
            if (r.outcome().end() == RunOutcome.End.TRIPPED) {
                screen.print("A voltage that was still rising then stands below as an estimate of where it was"
                        + " going, with its wide uncertainty.");
            }
        });
        results.forEach(
                (each, result) -> screen.out().print(DiagnosisText.text(each, result.diagnosis(), result.fitted())));
    }

    private static ExitStatus status(Map<Rail, DiagnosisJson.OfRail> results) {
        EnumSet<ExitStatus> found = EnumSet.noneOf(ExitStatus.class);
        results.values().forEach(result -> {
            Diagnosis diagnosis = result.diagnosis();
            boolean one = diagnosis.suspects().get(0).probabilityRatio() > 0.5;
            found.add(diagnosis.sound() ? ExitStatus.PASSED : one ? ExitStatus.UNIT_FAILED : ExitStatus.NOT_JUDGED);
        });
        return found.contains(ExitStatus.UNIT_FAILED)
                ? ExitStatus.UNIT_FAILED
                : found.contains(ExitStatus.NOT_JUDGED) ? ExitStatus.NOT_JUDGED : ExitStatus.PASSED;
    }

    private int confirm(Path folder, Profile type, String label) throws BadFileException, RecordException {
        UnitPart part = UnitPart.ofLabel(label)
                .orElseThrow(() -> new ParameterException(
                        spec.commandLine(),
                        "no part \"" + label + "\"; there are: "
                                + String.join(
                                        ", ",
                                        List.of(UnitPart.values()).stream()
                                                .map(UnitPart::label)
                                                .toList())));
        Sealing.keepRepair(folder, type.id(), part);
        screen.say("Kept: it was the " + part.words() + " (" + folder.resolve(Repairs.FILE) + ")");
        return ExitStatus.PASSED.code();
    }
}

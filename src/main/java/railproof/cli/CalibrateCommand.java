package railproof.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Period;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import railproof.app.CalibrationRequest;
import railproof.app.CalibrationService;
import railproof.app.Calibrator;
import railproof.app.ExitStatus;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.record.RecordException;
import railproof.rig.ChannelCalibration;
import railproof.wire.LinkException;

/** {@code railproof calibrate}: channels of the board against a reference meter. */
@Command(
        name = "calibrate",
        mixinStandardHelpOptions = true,
        description = {
            "Calibrates channels of the board against a reference meter: asks for one level after the other, fits a"
                    + " straight line, checks zero and leads, and writes the rig's calibration file. Other channels in"
                    + " the file stay as they are. Answers are read from the keyboard or a pipe: one number a line;"
                    + " an empty line leaves a check out. On a simulated bench a simulated calibrator answers.",
            ""
        })
final class CalibrateCommand implements Callable<Integer> {
    private final Screen screen;

    @Option(
            names = "--rig",
            required = true,
            paramLabel = "FILE",
            description = "rig file, or the name of one that comes with the program")
    private String rig = "";

    @Option(
            names = "--channel",
            required = true,
            arity = "1..*",
            paramLabel = "NAME",
            description = "channels of the rig file, one after the other")
    private List<String> channels = new ArrayList<>();

    @Option(
            names = "--reference",
            required = true,
            paramLabel = "METER",
            description = "the reference meter with its serial number, as it shall stand in the record")
    private String reference = "";

    @Option(
            names = "--reference-u",
            required = true,
            paramLabel = "U",
            description = "standard uncertainty of the reference: \"0.003 %% + 0.0002\" is 0.003 %% of the reading and"
                    + " 0.0002 in the channel's unit; half of an expanded uncertainty with k = 2")
    private String referenceU = "";

    @Option(
            names = "--levels",
            split = ",",
            paramLabel = "LEVEL",
            description = "levels to apply, in the channel's unit; default: five from 0 to 90 %% of full scale")
    private List<Double> levels = new ArrayList<>();

    @Option(
            names = "--months",
            paramLabel = "N",
            defaultValue = "12",
            description = "months until it is due again; default: ${DEFAULT-VALUE}")
    private int months = 12;

    @Option(names = "--write", paramLabel = "FILE", description = "calibration file, if not the one the rig file names")
    @Nullable
    private Path file;

    CalibrateCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException, LinkException, RecordException {
        List<Problem> problems = new ArrayList<>();
        Optional<ChannelCalibration.Reference> meter = CalibrationRequest.reference(reference, referenceU);
        if (meter.isEmpty()) {
            problems.add(new Problem(
                    "--reference-u", 0, 0, "", "must be like \"0.003 % + 0.0002\"; found \"" + referenceU + "\""));
        }
        if (months < 1 || months > 120) {
            problems.add(new Problem("--months", 0, 0, "", "must be 1 to 120; found " + months));
        }
        if (!problems.isEmpty() || meter.isEmpty()) {
            throw new BadFileException(problems);
        }
        CalibrationRequest request = new CalibrationRequest(
                Inputs.rig(rig), channels, meter.get(), levels, Period.ofMonths(months), Optional.ofNullable(file));
        List<String> done;
        try {
            done = CalibrationService.run(request, new Terminal());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return ExitStatus.RIG_TROUBLE.code();
        }
        screen.print("Calibrated: " + (done.isEmpty() ? "nothing" : String.join(", ", done)));
        return (done.size() == channels.size() ? ExitStatus.PASSED : ExitStatus.RIG_TROUBLE).code();
    }

    /** Asks at the terminal. */
    private final class Terminal implements Calibrator {
        @Override
        public OptionalDouble reading(Step step, String channel, double level, String unit) {
            screen.say(step.words(channel, level, unit));
            while (true) {
                String answer = line();
                if (answer.isBlank()) {
                    return OptionalDouble.empty();
                }
                try {
                    double value = Double.parseDouble(answer.strip());
                    if (Double.isFinite(value)) {
                        return OptionalDouble.of(value);
                    }
                } catch (NumberFormatException e) {
                    // said below
                }
                screen.say("A number in " + unit + " is wanted, with a decimal point; found \"" + answer + "\"");
            }
        }

        private String line() {
            try {
                String line = screen.in().readLine();
                return line == null ? "" : line;
            } catch (IOException e) {
                return "";
            }
        }

        @Override
        public void show(String line) {
            screen.say(line);
        }
    }
}

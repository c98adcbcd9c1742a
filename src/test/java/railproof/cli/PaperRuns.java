package railproof.cli;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import railproof.app.ExitStatus;
import railproof.app.Sealing;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.Verdict;
import railproof.profile.Band;
import railproof.profile.ProfileFile;
import railproof.profile.SourceText;
import railproof.record.RunFolder;
import railproof.record.RunFolderWriter;
import railproof.record.RunIds;
import railproof.rig.file.BuiltInFiles;
import railproof.run.ChannelAccuracy;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Stage;
import railproof.seal.Sealer;

/** Run folders of an invented unit as a bench would have left them, and the command line over them. */
final class PaperRuns {
    private static final Instant DAY = Instant.parse("2026-11-25T10:15:30Z");

    final Path data;

    PaperRuns(Path data) {
        this.data = data;
    }

    /** What a command printed and its exit status. */
    record Said(int status, String out, String err) {}

    Said command(String... arguments) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        int status = new CommandLineFace(
                        new PrintStream(out, true, StandardCharsets.UTF_8),
                        new PrintStream(err, true, StandardCharsets.UTF_8),
                        new ByteArrayInputStream(new byte[0]),
                        (rig, data, operator, file) -> ExitStatus.BAD_INPUT)
                .run(arguments);
        return new Said(status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
    }

    /** A command with this data directory. */
    Said inData(String... arguments) {
        String[] all = java.util.Arrays.copyOf(arguments, arguments.length + 2);
        all[arguments.length] = "--data";
        all[arguments.length + 1] = data.toString();
        return command(all);
    }

    /** A sealed run of a real, calibrated bench that completed. */
    Path sealed(String serial, Stage stage, Verdict verdict, int minute) throws IOException, BadFileException {
        Path folder = unsealed(serial, stage, verdict, minute);
        new Sealer(Sealing.keys())
                .seal(folder, RunFolder.read(folder).header(), DAY.plusSeconds(60L * minute + 9), Map.of());
        return folder;
    }

    private Path unsealed(String serial, Stage stage, Verdict verdict, int minute)
            throws IOException, BadFileException {
        ProfileFile profile = BuiltInFiles.profile("counter-5v");
        Instant at = DAY.plusSeconds(60L * minute);
        RunHeader header = header(serial, stage, at, profile.source());
        Path folder;
        try (RunFolderWriter writer = RunFolderWriter.open(data, header)) {
            folder = writer.folder();
            writer.append(new RunEvent.ChannelUsed(
                    0,
                    new ChannelAccuracy(
                            "+5 V",
                            Quantity.OUTPUT,
                            "output-1",
                            1e-4,
                            1e-3,
                            0,
                            0,
                            0,
                            1e-4,
                            1e-4,
                            0,
                            0,
                            Optional.of(new ChannelAccuracy.Calibrated(
                                    LocalDate.parse("2026-03-02"), LocalDate.parse("2027-03-02"), "bench meter")))));
            for (int i = 0; i < 3; i++) {
                writer.append(new RunEvent.PointTaken(i, point(i, verdict)));
            }
            writer.append(new RunEvent.RunEnded(
                    4,
                    at.plusSeconds(4),
                    new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), SafeState.CONFIRMED)));
        }
        Check check = new Check(
                "ripple-pp",
                "Ripple, peak to peak",
                "+5 V",
                Measured.of(verdict == Verdict.FAIL ? 0.08 : 0.02, 0.001, Unit.VOLT),
                0.002,
                2,
                Band.atMost(0.04),
                Unit.VOLT,
                verdict,
                "");
        RunFolder.writeVerdict(
                folder,
                new Judgement(
                        profile.profile().id(),
                        profile.source().sha256(),
                        profile.profile().rule(),
                        List.of(check)));
        return folder;
    }

    private static RunHeader header(String serial, Stage stage, Instant at, SourceText profile) {
        return new RunHeader(
                RunIds.of(at, serial, stage),
                serial,
                stage,
                "m. k.",
                at,
                "0.1.0",
                profile,
                SourceText.of("bench-2.toml", "name = \"bench-2\"\n"),
                SourceText.of("bench-2-cal.toml", "calibrated = true\n"),
                false,
                "",
                List.of("board: 24 bit, serial 0007"));
    }

    private static Point point(int index, Verdict verdict) {
        double outputV = 5.05 - index * (verdict == Verdict.FAIL ? 0.2 : 0.02);
        return new Point(
                index,
                Section.LOAD_SWEEP,
                "+5 V",
                new Setpoint("CC", 4 * index, 115),
                index,
                true,
                Map.of(
                        Quantity.OUTPUT, Measured.of(outputV, 0.001, Unit.VOLT),
                        Quantity.LOAD_CURRENT, Measured.of(4 * index, 0.001, Unit.AMPERE)),
                OptionalInt.empty(),
                "");
    }
}

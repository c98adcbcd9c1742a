package railproof.seal;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.SourceText;
import railproof.record.RunFolder;
import railproof.record.RunFolderWriter;
import railproof.record.RunIds;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Stage;
import railproof.run.Waveform;

/** Small whole runs on disk, sealed. */
public final class SealedRuns {
    static final Instant DAY = Instant.parse("2026-11-25T10:15:30Z");

    private final Path data;
    final KeyFolder keys;

    /** Runs and keys in that folder. */
    public SealedRuns(Path place) {
        data = place.resolve("data");
        keys = new KeyFolder(place.resolve("keys"));
    }

    /** The data directory. */
    public Path data() {
        return data;
    }

    /** A sealed run. */
    public Path run(String serial, Stage stage, int minute) throws IOException, BadFileException {
        Path folder = unsealed(serial, stage, minute);
        new Sealer(keys).seal(folder, header(folder), DAY.plusSeconds(60L * minute + 30), Map.of());
        return folder;
    }

    Verification verify(Path folder) throws IOException, BadFileException {
        return Verifier.run(folder, keys.known());
    }

    /** A run that ended, without a seal. */
    public Path unsealed(String serial, Stage stage, int minute) throws IOException {
        Instant at = DAY.plusSeconds(60L * minute);
        RunHeader header = new RunHeader(
                RunIds.of(at, serial, stage),
                serial,
                stage,
                "bench 2",
                at,
                "0.1.0",
                SourceText.of("counter-5v.toml", "name = \"counter-5v\"\n"),
                SourceText.of("bench-2.toml", "name = \"bench-2\"\n"),
                SourceText.of("", ""),
                false,
                "",
                List.of("board: 24 bit, serial 0007"));
        try (RunFolderWriter writer = RunFolderWriter.open(data, header)) {
            writer.append(new RunEvent.WaveformTaken(
                    1,
                    new Waveform(
                            0,
                            Section.LOAD_SWEEP,
                            "+5 V",
                            1,
                            1000,
                            List.of(new Waveform.Trace("output_V", new double[] {5.01, 5.02, 5.015})))));
            writer.append(new RunEvent.PointTaken(
                    2,
                    new Point(
                            0,
                            Section.LOAD_SWEEP,
                            "+5 V",
                            new Setpoint("CC", 1, 115),
                            2,
                            true,
                            Map.of(Quantity.OUTPUT, Measured.of(5.012, 0.001, Unit.VOLT)),
                            OptionalInt.of(0),
                            "")));
            writer.append(new RunEvent.RunEnded(
                    3,
                    at.plusSeconds(3),
                    new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), SafeState.CONFIRMED)));
            RunFolder.writeText(writer.folder(), "certificate.html", "<p>unit " + minute + "</p>\n");
            return writer.folder();
        }
    }

    static RunHeader header(Path folder) throws BadFileException {
        return RunFolder.read(folder).header();
    }
}

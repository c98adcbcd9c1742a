package railproof.app;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.base.Clock;
import railproof.profile.SourceText;
import railproof.rig.Accuracy;
import railproof.rig.Channel;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.CalibrationFile;
import railproof.rig.file.ChannelConfig;
import railproof.rig.file.InputRange;
import railproof.rig.file.RigFile;

/**
 * The calibration of a rig's board as it stands on one day. A missing or expired calibration stops nothing here: it is
 * said, and the run goes on; whoever signs off must look.
 *
 * <p>Thread: immutable.
 */
final class RigCalibration {
    private final Optional<CalibrationFile> file;
    private final LocalDate today;
    private final List<String> doubts;

    private RigCalibration(Optional<CalibrationFile> file, LocalDate today, List<String> doubts) {
        this.file = file;
        this.today = today;
        this.doubts = List.copyOf(doubts);
    }

    /**
     * Reads the calibration a rig file names.
     *
     * @throws BadFileException if there is one and it cannot be used
     */
    static RigCalibration of(RigFile rig, Clock clock) throws BadFileException {
        LocalDate today = clock.wallTime().atZone(ZoneOffset.UTC).toLocalDate();
        Optional<Path> path = rig.calibrationFile();
        if (path.isEmpty()) {
            return new RigCalibration(
                    Optional.empty(), today, List.of("no calibration: the rig has no calibration file"));
        }
        if (!Files.exists(path.get())) {
            return new RigCalibration(
                    Optional.empty(), today, List.of("no calibration: there is no file " + path.get()));
        }
        CalibrationFile file = CalibrationFile.read(path.get(), rig.config());
        List<String> doubts = new ArrayList<>();
        List<String> without = new ArrayList<>();
        for (ChannelConfig channel : rig.config().board().channels()) {
            Optional<ChannelCalibration> line = file.line(channel.name());
            if (line.isEmpty()) {
                without.add(channel.name());
            } else if (line.get().dueOn().isBefore(today)) {
                doubts.add("calibration of channel " + channel.name() + " expired on "
                        + line.get().dueOn());
            } else if (line.get().calibratedOn().isAfter(today)) {
                doubts.add("calibration of channel " + channel.name() + " is of "
                        + line.get().calibratedOn() + ", which is still to come: check the clock of this computer");
            }
        }
        if (!without.isEmpty()) {
            doubts.add("no calibration of " + String.join(", ", without));
        }
        return new RigCalibration(Optional.of(file), today, doubts);
    }

    /** What speaks against signing off on it, in words; empty if nothing. */
    List<String> doubts() {
        return doubts;
    }

    /** The file's text for the record; empty text if there is none. */
    SourceText source() {
        return file.map(CalibrationFile::source).orElse(new SourceText("", "", ""));
    }

    /** Why the calibration is not of this board; empty if it is, or if there is none. */
    Optional<String> foreign(String boardSerial) {
        return file.filter(f -> !f.boardSerial().equals(boardSerial))
                .map(f -> "the calibration is of board " + f.boardSerial() + ", connected is board " + boardSerial);
    }

    /** What a calibrated channel was compared with and until when it holds; empty if it is not calibrated. */
    Optional<ChannelCalibration> line(ChannelConfig channel) {
        return file.flatMap(f -> f.line(channel.name()));
    }

    /** The channel with its calibration applied. */
    Channel channel(ChannelConfig config) {
        InputRange range = config.range();
        Accuracy stated = stated(range);
        Optional<ChannelCalibration> line = line(config);
        return new Channel(
                config.name(),
                config.input(),
                range.fullScaleDimensionless(),
                range.zeroDimensionless(),
                line.map(l -> l.accuracy(stated, range.driftURatio(), today)).orElse(stated),
                line);
    }

    private static Accuracy stated(InputRange range) {
        double span = Math.abs(range.fullScaleDimensionless() - range.zeroDimensionless());
        return new Accuracy(
                range.gainURatio(),
                range.offsetUDimensionless(),
                range.nonLinearityURatio() * span,
                range.noiseRmsDimensionless());
    }
}

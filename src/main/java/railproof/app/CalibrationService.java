package railproof.app;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.Identity;
import railproof.instrument.InstrumentException;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.CalibrationEvidence;
import railproof.rig.file.CalibrationEvidence.LeadDrop;
import railproof.rig.file.CalibrationFile;
import railproof.rig.file.CalibrationText;
import railproof.rig.file.ChannelConfig;
import railproof.rig.file.RigConfig;
import railproof.wire.LinkException;
import railproof.wire.WireTrace;

/**
 * Calibrates channels of a rig's board against a reference meter: level by level, a straight line through all, a check
 * of zero and of the drop in the leads, and the calibration file written in one step with the other channels kept.
 *
 * <p>Thread: blocks its caller; the caller is the only one who talks with the instruments meanwhile.
 */
public final class CalibrationService {
    private static final List<Double> LEVEL_RATIOS = List.of(0.0, 0.25, 0.5, 0.75, 0.9);
    /** The channel may be this far from the reference before something must be connected wrongly, of full scale. */
    private static final double PLAUSIBLE_RATIO = 0.1;

    private final CalibrationRequest request;
    private final RigConfig config;
    private final Path target;
    private final List<ChannelConfig> channels = new ArrayList<>();

    private CalibrationService(CalibrationRequest request) throws BadFileException {
        this.request = request;
        this.config = request.rig().config();
        List<Problem> problems = new ArrayList<>();
        for (String name : request.channels()) {
            config.board().channels().stream()
                    .filter(channel -> channel.name().equals(name))
                    .findFirst()
                    .ifPresentOrElse(channels::add, () -> problems.add(problem("the rig file has no channel " + name)));
        }
        int levels = request.levels().size();
        if (levels > 0 && (levels < 3 || request.levels().stream().distinct().count() < 3 || levels > 50)) {
            problems.add(problem("3 to 50 levels are needed, at least three of them different; got " + levels));
        }
        for (ChannelConfig channel : channels) {
            double most = Math.abs(channel.range().fullScaleDimensionless());
            if (request.levels().stream().anyMatch(level -> Math.abs(level) > most)) {
                problems.add(problem("channel " + channel.name() + " reaches to ± " + most + " only"));
            }
        }
        Optional<Path> file = request.file().or(() -> request.rig().calibrationFile());
        if (file.isEmpty()) {
            problems.add(problem("the rig file names no calibration_file, and no other file is given"));
        }
        if (!problems.isEmpty()) {
            throw new BadFileException(problems);
        }
        target = file.orElseThrow();
    }

    private Problem problem(String message) {
        return new Problem(request.rig().source().name(), 0, 0, "", message);
    }

    /**
     * Calibrates.
     *
     * @param request what
     * @param calibrator who applies the levels; on a simulated bench only shown what happens
     * @return the channels now calibrated; fewer than asked for if the calibrator gave up
     * @throws BadFileException if a channel is unknown, levels do not fit, or there is no file to write to
     * @throws LinkException if a link cannot be opened or is lost
     * @throws RecordException if the file cannot be written
     */
    public static List<String> run(CalibrationRequest request, Calibrator calibrator)
            throws BadFileException, LinkException, RecordException, InterruptedException {
        try {
            return new CalibrationService(request).calibrateAll(calibrator);
        } catch (InstrumentException e) {
            throw new LinkException("calibration", String.valueOf(e.getMessage()));
        }
    }

    private List<String> calibrateAll(Calibrator calibrator)
            throws BadFileException, LinkException, InstrumentException, RecordException, InterruptedException {
        // read first: a broken file must not cost an hour of levels
        Map<String, CalibrationFile.Entry> kept = new LinkedHashMap<>();
        Optional<CalibrationFile> before =
                Files.exists(target) ? Optional.of(CalibrationFile.read(target, config)) : Optional.empty();
        before.ifPresent(file -> kept.putAll(file.channels()));
        CalibrationBench bench = CalibrationBench.open(request, channels, calibrator);
        RigAssembly assembly = new RigAssembly(
                config,
                bench.access(),
                new WireTrace(),
                RigCalibration.of(request.rig(), bench.access().clock()));
        RigAssembly.Instruments instruments = assembly.open();
        try {
            for (ElectronicLoad load : instruments.loads().values()) {
                load.connect();
            }
            Identity board = instruments.board().connect();
            if (before.isPresent() && !before.get().boardSerial().equals(board.serial())) {
                calibrator.show("The file holds the calibration of board "
                        + before.get().boardSerial() + "; this is board " + board.serial()
                        + ": the other channels are dropped.");
                kept.clear();
            }
            LocalDate today =
                    bench.access().clock().wallTime().atZone(ZoneOffset.UTC).toLocalDate();
            AveragedChannel reader = new AveragedChannel(instruments.board());
            List<String> done = new ArrayList<>();
            for (ChannelConfig channel : channels) {
                Optional<CalibrationFile.Entry> entry = calibrate(channel, bench.calibrator(), reader, today);
                if (entry.isEmpty()) {
                    break;
                }
                kept.put(channel.name(), entry.get());
                done.add(channel.name());
                write(CalibrationText.of(config, board.serial(), kept));
            }
            return done;
        } finally {
            instruments.loads().values().forEach(ElectronicLoad::close);
            instruments.lineSource().ifPresent(source -> source.close());
            instruments.board().close();
        }
    }

    private void write(String text) throws RecordException {
        Path absolute = target.toAbsolutePath();
        RunFolder.writeText(
                Optional.ofNullable(absolute.getParent()).orElse(absolute),
                String.valueOf(absolute.getFileName()),
                text);
    }

    private Optional<CalibrationFile.Entry> calibrate(
            ChannelConfig channel, Calibrator calibrator, AveragedChannel reader, LocalDate today)
            throws LinkException, InstrumentException, InterruptedException {
        String unit = channel.range().unit().symbol();
        List<Double> nominal = new ArrayList<>();
        List<Double> reference = new ArrayList<>();
        for (double level : levels(channel)) {
            OptionalDouble reading = calibrator.reading(Calibrator.Step.LEVEL, channel.name(), level, unit);
            if (reading.isEmpty()) {
                calibrator.show(channel.name() + ": given up; nothing of it is written");
                return Optional.empty();
            }
            double seen = reader.nominal(channel);
            double apart = Math.abs(seen - reading.getAsDouble());
            if (apart > PLAUSIBLE_RATIO * Math.abs(channel.range().fullScaleDimensionless())) {
                calibrator.show(String.format(
                        Locale.ROOT,
                        "%s reads %.6g %s where the reference reads %.6g %s: something is connected wrongly; given up",
                        channel.name(),
                        seen,
                        unit,
                        reading.getAsDouble(),
                        unit));
                return Optional.empty();
            }
            nominal.add(seen);
            reference.add(reading.getAsDouble());
        }
        if (reference.stream().mapToDouble(Double::doubleValue).max().orElse(0)
                <= reference.stream().mapToDouble(Double::doubleValue).min().orElse(0)) {
            calibrator.show(channel.name() + ": all levels are the same; no line can be drawn");
            return Optional.empty();
        }
        ChannelCalibration line =
                CalibrationFit.of(nominal, reference, request.reference(), today, today.plus(request.validFor()));
        CalibrationReport report = new CalibrationReport(channel, line, calibrator);
        report.line(nominal, reference);
        Optional<Double> zero = check(Calibrator.Step.ZERO, channel, line, calibrator, reader);
        report.zero(zero);
        Optional<LeadDrop> lead =
                feelsLoadCurrent(channel) ? leadDrop(channel, line, calibrator, reader) : Optional.empty();
        ChannelCalibration whole = lead.map(l -> line.withLeadDrop(l.dropDimensionless(), l.currentA()))
                .orElse(line);
        if (feelsLoadCurrent(channel)) {
            report.leadDrop(lead, whole);
        }
        return Optional.of(new CalibrationFile.Entry(whole, new CalibrationEvidence(nominal, reference, zero, lead)));
    }

    /** Whether the channel is on the output of a position: only there a load current flows beside its leads. */
    private boolean feelsLoadCurrent(ChannelConfig channel) {
        return config.positions().stream()
                .anyMatch(position -> position.output().name().equals(channel.name()));
    }

    private static Optional<LeadDrop> leadDrop(
            ChannelConfig channel, ChannelCalibration line, Calibrator calibrator, AveragedChannel reader)
            throws LinkException, InstrumentException, InterruptedException {
        Optional<Double> drop = check(Calibrator.Step.LEAD_DROP, channel, line, calibrator, reader);
        if (drop.isEmpty()) {
            return Optional.empty();
        }
        OptionalDouble currentA = calibrator.reading(Calibrator.Step.LEAD_CURRENT, channel.name(), 0, "A");
        if (currentA.isEmpty() || !(currentA.getAsDouble() > 0)) {
            calibrator.show("  without a current above 0 A the lead-drop check says nothing; it is left out");
            return Optional.empty();
        }
        return Optional.of(new LeadDrop(drop.get(), currentA.getAsDouble()));
    }

    /** The corrected channel less the reference; empty if the step was left out. */
    private static Optional<Double> check(
            Calibrator.Step step,
            ChannelConfig channel,
            ChannelCalibration line,
            Calibrator calibrator,
            AveragedChannel reader)
            throws LinkException, InstrumentException, InterruptedException {
        double level = step == Calibrator.Step.ZERO ? 0 : 0.5 * channel.range().fullScaleDimensionless();
        OptionalDouble reading = calibrator.reading(
                step, channel.name(), level, channel.range().unit().symbol());
        if (reading.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(line.corrected(reader.nominal(channel)) - reading.getAsDouble());
    }

    private List<Double> levels(ChannelConfig channel) {
        if (!request.levels().isEmpty()) {
            return request.levels();
        }
        double zero = channel.range().zeroDimensionless();
        double span = channel.range().fullScaleDimensionless() - zero;
        return LEVEL_RATIOS.stream().map(ratio -> zero + ratio * span).toList();
    }
}

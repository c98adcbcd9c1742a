package railproof.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.instrument.BoardCapability;
import railproof.instrument.BoardStatus;
import railproof.instrument.ChannelSums;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.Identity;
import railproof.instrument.InstrumentException;
import railproof.profile.Profile;
import railproof.profile.ProfileFile;
import railproof.report.Quantities;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.ChannelConfig;
import railproof.rig.file.InterlockConfig;
import railproof.rig.file.Placement;
import railproof.rig.file.RigConfig;
import railproof.rig.file.RigFile;
import railproof.run.Stage;
import railproof.wire.LinkException;
import railproof.wire.WireTrace;

/**
 * Looks a rig over without switching anything on: files, links, identities, interlocks, what every channel reads.
 *
 * <p>Thread: blocks its caller; the caller is the only one who talks with the instruments meanwhile.
 */
public final class RigCheck {
    private static final int SAMPLES = 1000;

    private final RigFile rig;
    private final Optional<ProfileFile> profile;
    private final List<Finding> findings = new ArrayList<>();

    /**
     * A check.
     *
     * @param profile the supply that is to be tested on the rig, if one is named
     */
    public RigCheck(RigFile rig, Optional<ProfileFile> profile) {
        this.rig = rig;
        this.profile = profile;
    }

    /**
     * One thing looked at.
     *
     * @param what what it is
     * @param good whether it is as it should be
     * @param found what was found, in words
     */
    public record Finding(String what, boolean good, String found) {}

    /** Checks the files only. */
    public List<Finding> files() {
        RigConfig config = rig.config();
        add(
                "rig file",
                true,
                rig.source().name() + ": " + config.title() + "; "
                        + config.positions().size() + " positions, "
                        + config.loads().size() + " loads, "
                        + config.board().channels().size() + " channels");
        profile.ifPresent(file -> placement(config, file.profile()));
        return List.copyOf(findings);
    }

    private void placement(RigConfig config, Profile unit) {
        Placement placement = Placement.of(config, unit);
        for (Problem problem : placement.problems()) {
            add("profile " + unit.id(), false, problem.message());
        }
        for (Placement.Seat seat : placement.seats()) {
            add(
                    "rail " + seat.rail().name(),
                    true,
                    "goes to position " + seat.position().name() + ", load "
                            + seat.position().load());
        }
    }

    /** Checks the files, then talks with everything. */
    public List<Finding> everything() throws BadFileException {
        files();
        ProfileFile unit = profile.orElseGet(() -> BuiltInFiles.profile("counter-5v"));
        RunRequest request =
                new RunRequest(rig, unit, "", Stage.AS_FOUND, "", java.nio.file.Path.of(""), Optional.empty(), false);
        BenchAccess bench = Benches.open(request);
        RigCalibration calibration = RigCalibration.of(rig, bench.clock());
        calibration(calibration);
        RigAssembly assembly = new RigAssembly(rig.config(), bench, new WireTrace(), calibration);
        try {
            RigAssembly.Instruments instruments = assembly.open();
            loads(instruments);
            board(instruments);
            instruments.lineSource().ifPresent(source -> look("line source", () -> identity(source.connect())));
            instruments.loads().values().forEach(ElectronicLoad::close);
            instruments.lineSource().ifPresent(source -> source.close());
            instruments.board().close();
        } catch (LinkException e) {
            add("links", false, String.valueOf(e.getMessage()));
        }
        return List.copyOf(findings);
    }

    /** A calibration that is missing or expired is not the rig's trouble: it can measure; it cannot sign off. */
    private void calibration(RigCalibration calibration) {
        for (ChannelConfig channel : rig.config().board().channels()) {
            calibration
                    .line(channel)
                    .ifPresent(line -> add(
                            "calibration " + channel.name(),
                            true,
                            "of " + line.calibratedOn() + ", due " + line.dueOn() + ", against "
                                    + line.reference().meter() + leads(channel, line)));
        }
        for (String doubt : calibration.doubts()) {
            add("calibration", true, doubt + "; the rig can measure, its runs cannot be signed off");
        }
    }

    private String leads(ChannelConfig channel, ChannelCalibration line) {
        boolean output = rig.config().positions().stream()
                .anyMatch(position -> position.output().name().equals(channel.name()));
        if (!output) {
            return "";
        }
        return line.leadUOhm() > 0
                ? String.format(Locale.ROOT, "; lead drop checked, u = %.2g mOhm", 1000 * line.leadUOhm())
                : "; lead drop not checked";
    }

    private void loads(RigAssembly.Instruments instruments) {
        for (Map.Entry<String, ElectronicLoad> load : instruments.loads().entrySet()) {
            look(load.getKey(), () -> {
                String words = identity(load.getValue().connect());
                return words + "; input off, read back"
                        + (load.getValue().hasWatchdog()
                                ? "; has a watchdog of its own"
                                : "; no watchdog of its own: if this PC dies, only the board's contactor opens");
            });
        }
    }

    private void board(RigAssembly.Instruments instruments) {
        look("board", () -> {
            Identity identity = instruments.board().connect();
            BoardCapability can = instruments.board().capability();
            if (can.channelCount() < rig.config().board().inputsNeeded()) {
                throw new InstrumentException(
                        "board",
                        "capability",
                        rig.config().board().inputsNeeded() + " channels",
                        can.channelCount() + " channels");
            }
            return identity(identity) + "; " + can.channelCount() + " channels of " + can.codeBits() + " bits";
        });
        look("interlocks", () -> interlocks(instruments.board().status()));
        for (ChannelConfig channel : rig.config().board().channels()) {
            look("channel " + channel.name(), () -> reading(instruments, channel));
        }
    }

    private String interlocks(BoardStatus status) throws InstrumentException {
        for (InterlockConfig interlock : rig.config().interlocks()) {
            if ((status.inputs() & 1 << interlock.input()) == 0) {
                throw new InstrumentException("board", "interlock " + interlock.name(), "closed", "open");
            }
        }
        return rig.config().interlocks().isEmpty() ? "none in this rig" : "all closed";
    }

    private static String reading(RigAssembly.Instruments instruments, ChannelConfig channel)
            throws LinkException, InstrumentException, InterruptedException {
        BoardCapability can = instruments.board().capability();
        // a tenth of a second: whole cycles of 50 and of 60 Hz
        long periodTicks = can.tickHz() / 10 / SAMPLES;
        ChannelSums sums = instruments
                .board()
                .read(1 << channel.input(), SAMPLES, periodTicks)
                .get(0);
        double value = channel.range().value(sums.meanCode(), can.codeBits());
        return "reads " + Quantities.digits(value, 4, channel.range().unit()) + " with everything off";
    }

    private static String identity(Identity identity) {
        return identity.model() + ", serial " + identity.serial() + ", firmware " + identity.firmware();
    }

    /** Something to look at that may not answer. */
    @FunctionalInterface
    private interface Look {
        String words() throws LinkException, InstrumentException, InterruptedException;
    }

    private void look(String what, Look look) {
        try {
            add(what, true, look.words());
        } catch (LinkException | InstrumentException e) {
            add(what, false, String.valueOf(e.getMessage()));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            add(what, false, "interrupted");
        }
    }

    private void add(String what, boolean good, String found) {
        findings.add(new Finding(what, good, found));
    }
}

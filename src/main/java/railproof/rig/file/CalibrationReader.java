package railproof.rig.file;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import railproof.base.Unit;
import railproof.profile.SourceText;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.CalibrationEvidence.LeadDrop;
import railproof.toml.TomlSection;

/** Reads the tree of a calibration file, against the rig file it belongs to. */
final class CalibrationReader {
    static final int MIN_LEVELS = 3;
    static final int MAX_LEVELS = 50;
    private static final double LARGEST = 5000;
    private static final String LEAD_CURRENT = "lead_drop_current_A";
    private static final double LEAST_CURRENT_A = 1e-4;
    private static final double LARGEST_CURRENT_A = 1000;

    private final TomlSection root;
    private final RigConfig config;

    CalibrationReader(TomlSection root, RigConfig config) {
        this.root = root;
        this.config = config;
    }

    CalibrationFile read(SourceText source) {
        String rig = root.text("rig");
        if (root.good("rig") && !rig.equals(config.name())) {
            root.problem("rig", "this is the calibration of rig \"" + rig + "\", not of \"" + config.name() + "\"");
        }
        String serial = root.text("board_serial");
        Optional<String> wanted = config.board().serialNumber();
        if (root.good("board_serial") && wanted.isPresent() && !wanted.get().equals(serial)) {
            root.problem(
                    "board_serial",
                    "this is the calibration of board \"" + serial + "\"; the rig file wants board \"" + wanted.get()
                            + "\"");
        }
        Map<String, CalibrationFile.Entry> channels = new LinkedHashMap<>();
        root.namedTables("channels", true, BoardConfig.MAX_BITS).forEach((name, section) -> {
            Optional<ChannelConfig> channel = config.board().channels().stream()
                    .filter(c -> c.name().equals(name))
                    .findFirst();
            if (channel.isEmpty()) {
                section.problem("the rig file has no channel \"" + name + "\"");
            }
            Unit unit = channel.map(c -> c.range().unit()).orElse(section.has("offset_C") ? Unit.CELSIUS : Unit.VOLT);
            entry(section, unit == Unit.CELSIUS ? "_C" : "_V").ifPresent(entry -> channels.put(name, entry));
        });
        return new CalibrationFile(rig, serial, channels, source);
    }

    private static Optional<CalibrationFile.Entry> entry(TomlSection section, String unit) {
        LocalDate on = day(section, "calibrated_on");
        LocalDate due = day(section, "due_on");
        if (section.good("calibrated_on", "due_on") && due.isBefore(on)) {
            section.problem("due_on", due + " lies before calibrated_on, " + on);
            due = on;
        }
        ChannelCalibration.Reference reference = new ChannelCalibration.Reference(
                section.text("reference"),
                section.number("reference_gain_u_pct", 0, 10) / 100,
                section.number("reference_offset_u" + unit, 0, 100));
        ChannelCalibration line = new ChannelCalibration(
                section.number("gain", 0.5, 2),
                section.number("offset" + unit, -LARGEST, LARGEST),
                section.number("pivot" + unit, -LARGEST, LARGEST),
                section.number("gain_u_pct", 0, 10) / 100,
                section.number("height_u" + unit, 0, 100),
                section.number("residual_sd" + unit, 0, 100),
                reference,
                on,
                due.isBefore(on) ? on : due,
                0);
        List<Double> nominal = section.numbers("nominal" + unit, -LARGEST, LARGEST, MIN_LEVELS, MAX_LEVELS);
        List<Double> readings = section.numbers("reference_readings" + unit, -LARGEST, LARGEST, MIN_LEVELS, MAX_LEVELS);
        Optional<Double> zero = section.optionalNumber("zero_check" + unit, -LARGEST, LARGEST);
        Optional<LeadDrop> lead = leadDrop(section, "lead_drop_check" + unit);
        if (nominal.size() != readings.size()) {
            if (section.good("nominal" + unit, "reference_readings" + unit)) {
                section.problem(
                        "reference_readings" + unit,
                        "must have as many entries as nominal" + unit + ", " + nominal.size() + "; found "
                                + readings.size());
            }
            return Optional.empty();
        }
        ChannelCalibration whole = lead.map(l -> line.withLeadDrop(l.dropDimensionless(), l.currentA()))
                .orElse(line);
        return Optional.of(new CalibrationFile.Entry(whole, new CalibrationEvidence(nominal, readings, zero, lead)));
    }

    private static Optional<LeadDrop> leadDrop(TomlSection section, String key) {
        Optional<Double> drop = section.optionalNumber(key, -LARGEST, LARGEST);
        Optional<Double> currentA = section.optionalNumber(LEAD_CURRENT, LEAST_CURRENT_A, LARGEST_CURRENT_A);
        if (section.has(key) != section.has(LEAD_CURRENT)) {
            section.problem(key + " and " + LEAD_CURRENT + " belong together: a drop says nothing without its current");
        }
        return drop.flatMap(volts -> currentA.map(amperes -> new LeadDrop(volts, amperes)));
    }

    private static LocalDate day(TomlSection section, String key) {
        String text = section.text(key);
        if (!section.good(key)) {
            return LocalDate.EPOCH;
        }
        try {
            return LocalDate.parse(text);
        } catch (DateTimeException e) {
            section.problem(key, "must be a day, such as \"2026-11-25\"; found \"" + text + "\"");
            return LocalDate.EPOCH;
        }
    }
}

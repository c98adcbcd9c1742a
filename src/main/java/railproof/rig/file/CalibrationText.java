package railproof.rig.file;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import railproof.base.Unit;
import railproof.rig.ChannelCalibration;

/** Writes a calibration as the text that {@link CalibrationFile} reads. All digits are kept. Pure. */
public final class CalibrationText {
    private static final String HEAD =
            """
            # Calibration of a board's channels, written by "railproof calibrate". The rig file names it.
            # true value = offset + gain * nominal value; "_u_" is a standard uncertainty (one sigma).
            # Slope and height of the line are independent at the pivot, the mean of the levels.
            """;

    private CalibrationText() {}

    /**
     * The text.
     *
     * @param channels by their names in the rig file
     * @param config the rig, for the channels' units
     */
    public static String of(RigConfig config, String boardSerial, Map<String, CalibrationFile.Entry> channels) {
        StringBuilder text = new StringBuilder(HEAD);
        line(text, "rig", quoted(config.name()));
        line(text, "board_serial", quoted(boardSerial));
        channels.forEach((name, entry) -> {
            boolean celsius = config.board().channels().stream()
                    .anyMatch(c -> c.name().equals(name) && c.range().unit() == Unit.CELSIUS);
            text.append("\n[channels.").append(quoted(name)).append("]\n");
            entry(text, entry, celsius ? "_C" : "_V");
        });
        return text.toString();
    }

    private static void entry(StringBuilder text, CalibrationFile.Entry entry, String unit) {
        ChannelCalibration line = entry.line();
        line(text, "calibrated_on", quoted(line.calibratedOn().toString()));
        line(text, "due_on", quoted(line.dueOn().toString()));
        line(text, "reference", quoted(line.reference().meter()));
        line(text, "reference_gain_u_pct", number(100 * line.reference().gainURatio()));
        line(text, "reference_offset_u" + unit, number(line.reference().offsetUDimensionless()));
        line(text, "gain", number(line.gainRatio()));
        line(text, "offset" + unit, number(line.offsetDimensionless()));
        line(text, "pivot" + unit, number(line.pivotDimensionless()));
        line(text, "gain_u_pct", number(100 * line.gainURatio()));
        line(text, "height_u" + unit, number(line.heightUDimensionless()));
        line(text, "residual_sd" + unit, number(line.residualSdDimensionless()));
        CalibrationEvidence evidence = entry.evidence();
        line(text, "nominal" + unit, numbers(evidence.nominal()));
        line(text, "reference_readings" + unit, numbers(evidence.reference()));
        evidence.zeroDimensionless().ifPresent(zero -> line(text, "zero_check" + unit, number(zero)));
        evidence.leadDrop().ifPresent(lead -> {
            line(text, "lead_drop_check" + unit, number(lead.dropDimensionless()));
            line(text, "lead_drop_current_A", number(lead.currentA()));
        });
    }

    private static void line(StringBuilder text, String key, String value) {
        text.append(key).append(" = ").append(value).append('\n');
    }

    /** Java's shortest form that reads back bit for bit; its E notation is TOML's too. */
    private static String number(double value) {
        return Double.toString(value);
    }

    private static String numbers(List<Double> values) {
        return values.stream().map(CalibrationText::number).collect(Collectors.joining(", ", "[", "]"));
    }

    private static String quoted(String value) {
        StringBuilder text = new StringBuilder("\"");
        value.codePoints().forEach(point -> {
            if (point == '"' || point == '\\') {
                text.append('\\').appendCodePoint(point);
            } else if (point < ' ' || point == 0x7F) {
                text.append(String.format(Locale.ROOT, "\\u%04x", point));
            } else {
                text.appendCodePoint(point);
            }
        });
        return text.append('"').toString();
    }
}

package railproof.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.Optional;
import railproof.run.ChannelAccuracy;
import railproof.run.Quantity;

/** A channel's accuracy as JSON. */
final class ChannelJson {
    private static final String CALIBRATION = "calibration";
    private static final String LEAD = "lead_u_ohm";

    private ChannelJson() {}

    static ObjectNode of(ChannelAccuracy accuracy) {
        ObjectNode json = Json.object()
                .put("rail", accuracy.rail())
                .put("quantity", accuracy.quantity().column())
                .put("channel", accuracy.channel());
        number(json, "gain_u_ratio", accuracy.gainURatio());
        number(json, "offset_u", accuracy.offsetUDimensionless());
        number(json, "fit_gain_u_ratio", accuracy.fitGainURatio());
        number(json, "fit_pivot", accuracy.fitPivotDimensionless());
        number(json, "nonlinearity_u", accuracy.nonLinearityUDimensionless());
        number(json, "noise_rms", accuracy.noiseRmsDimensionless());
        number(json, "step", accuracy.stepDimensionless());
        number(json, "drift_u_ratio", accuracy.driftURatio());
        number(json, LEAD, accuracy.leadUOhm());
        accuracy.calibration().ifPresent(calibrated -> json.putObject(CALIBRATION)
                .put("on", calibrated.on().toString())
                .put("due_on", calibrated.dueOn().toString())
                .put("reference", calibrated.reference()));
        return json;
    }

    private static void number(ObjectNode json, String key, double value) {
        json.put(key, Double.parseDouble(Cells.finite(key, value)));
    }

    static ChannelAccuracy read(JsonView json, RunFormat format) {
        return new ChannelAccuracy(
                json.text("rail"),
                json.parsed("quantity", Quantity::ofColumn, "a heading such as output_voltage_V", Quantity.OUTPUT),
                json.text("channel"),
                json.number("gain_u_ratio"),
                json.number("offset_u"),
                json.number("fit_gain_u_ratio"),
                json.number("fit_pivot"),
                json.number("nonlinearity_u"),
                json.number("noise_rms"),
                json.number("step"),
                json.number("drift_u_ratio"),
                format.holdsLeadDrops() ? json.number(LEAD) : json.numberOr(LEAD, 0),
                json.has(CALIBRATION) ? Optional.of(calibrated(json.object(CALIBRATION))) : Optional.empty());
    }

    private static ChannelAccuracy.Calibrated calibrated(JsonView json) {
        return new ChannelAccuracy.Calibrated(day(json, "on"), day(json, "due_on"), json.text("reference"));
    }

    private static LocalDate day(JsonView json, String key) {
        return json.parsed(key, ChannelJson::day, "a day such as 2026-11-25", LocalDate.EPOCH);
    }

    private static Optional<LocalDate> day(String text) {
        try {
            return Optional.of(LocalDate.parse(text));
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }
}

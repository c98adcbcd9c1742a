package railproof.diagnosis;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.LineRating;
import railproof.profile.Rail;

/**
 * One reading that a person with a meter is asked for. What is typed is a magnitude: nobody at a bench wants to type the
 * sign of a negative rail.
 *
 * <p>Thread: immutable; any.
 *
 * @param sight what is read
 * @param at under which condition
 * @param words the question, without its unit's prefix: {@code reservoir, d.c. at full load}
 */
public record MeterQuestion(Sight sight, Condition at, String words) {
    private static final Pattern NUMBER =
            Pattern.compile("([-+]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][-+]?\\d+)?)\\s*([mµuk]?)(?:V|A|°C|C)?");
    /** Standard uncertainty of a hand-held meter's d.c. reading, relative (common practice, no source). */
    private static final double METER_RATIO = 0.005;
    /** Of a ripple read off a screen, relative (common practice, no source). */
    private static final double RIPPLE_RATIO = 0.05;

    /** Standard uncertainty of a thermometer held against a heat sink, K (common practice, no source). */
    private static final double SINK_U_K = 2;

    private static final Condition[] CONDITIONS = {Condition.NO_LOAD, Condition.FULL_LOAD};

    /** What is asked at a node, in the order in which it is read. */
    public static List<MeterQuestion> at(ProbeNode node) {
        return switch (node) {
            case OUTPUT ->
                both(
                        Sight.OUTPUT,
                        "output, d.c.",
                        Sight.OUTPUT_RIPPLE,
                        "ripple p-p (oscilloscope; or 3.3 times an r.m.s. meter)");
            case RAW ->
                both(Sight.RAW, "reservoir, d.c.", Sight.RAW_RIPPLE, "its ripple p-p (or 3.3 times an r.m.s. meter)");
            case BASE -> each(Sight.BASE, "pass stage's base against common, d.c.");
            case REFERENCE -> each(Sight.REFERENCE, "reference, d.c.");
            case SENSE_TAP -> each(Sight.SENSE_TAP, "sense tap, d.c.");
            case HEAT_SINK ->
                List.of(new MeterQuestion(
                        Sight.HEAT_SINK, Condition.WARM, "heat sink after half an hour at full load, °C"));
            case LINE -> List.of(new MeterQuestion(Sight.LINE, Condition.FULL_LOAD, "line, V r.m.s."));
            case LOAD_TESTS ->
                List.of(new MeterQuestion(
                        Sight.LIMIT, Condition.FULL_LOAD, "load current at which the output has fallen by 5 %, A"));
        };
    }

    private static List<MeterQuestion> each(Sight sight, String words) {
        return List.of(
                new MeterQuestion(sight, CONDITIONS[0], words + " " + CONDITIONS[0].words()),
                new MeterQuestion(sight, CONDITIONS[1], words + " " + CONDITIONS[1].words()));
    }

    private static List<MeterQuestion> both(Sight level, String levelWords, Sight ripple, String rippleWords) {
        return List.of(
                new MeterQuestion(level, CONDITIONS[0], levelWords + " " + CONDITIONS[0].words()),
                new MeterQuestion(level, CONDITIONS[1], levelWords + " " + CONDITIONS[1].words()),
                new MeterQuestion(ripple, CONDITIONS[1], rippleWords + " " + CONDITIONS[1].words()));
    }

    /**
     * A number as people type it off a meter, {@code 12.1}, {@code 850m}, {@code 12,1 V}, in volts, amperes or degrees; empty if it
     * is none.
     */
    public static OptionalDouble number(String typed) {
        Matcher number = NUMBER.matcher(typed.strip().replace(',', '.'));
        if (!number.matches()) {
            return OptionalDouble.empty();
        }
        double scale =
                switch (number.group(2)) {
                    case "m" -> 1e-3;
                    case "µ", "u" -> 1e-6;
                    case "k" -> 1e3;
                    default -> 1;
                };
        return OptionalDouble.of(scale * Double.parseDouble(number.group(1)));
    }

    /**
     * The readings with this one.
     *
     * @param typedDimensionless as read, V, A or °C
     * @return empty if it says nothing: a base without the output under the same condition
     */
    public Optional<Readings> taken(double typedDimensionless, Rail rail, LineRating line, Readings readings) {
        double sign = Math.signum(rail.nominalV());
        double value = typedDimensionless;
        double u = METER_RATIO * Math.abs(typedDimensionless);
        switch (sight) {
            case OUTPUT, RAW, REFERENCE, SENSE_TAP -> value = sign * typedDimensionless;
            case HEAT_SINK -> u = SINK_U_K;
            case LINE -> {
                value = typedDimensionless / line.nominalV();
                u = METER_RATIO * value;
            }
            case BASE -> {
                Optional<Measured> output = readings.of(Sight.OUTPUT, at);
                if (output.isEmpty()) {
                    return Optional.empty();
                }
                value = sign * typedDimensionless - output.get().value();
                u = METER_RATIO * Math.sqrt(2) * Math.abs(typedDimensionless);
            }
            default -> u = RIPPLE_RATIO * Math.abs(typedDimensionless);
        }
        Unit unit = sight.unit();
        double found = value;
        double foundU = u;
        return Optional.of(Feature.of(sight, at)
                .map(feature -> readings.with(feature, Measured.of(found, foundU, unit)))
                .orElse(readings));
    }
}

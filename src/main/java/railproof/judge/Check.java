package railproof.judge;

import java.util.OptionalDouble;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Band;

/**
 * One thing checked.
 *
 * @param id stable short name for scripts, e.g. {@code load-regulation}
 * @param title for people, e.g. {@code Load regulation, of full load}; states the convention used
 * @param rail the rail's name
 * @param value what was found; may be missing
 * @param expandedU expanded uncertainty U of the value, in its unit; 0 if the value is missing
 * @param coverageDimensionless coverage factor k behind U
 * @param limit what is allowed, in the value's unit; the ends are allowed
 * @param unit unit of value and limit
 * @param verdict what follows
 * @param testUncertaintyRatio width of what is allowed over 2 U; empty where that is no width, or no value
 * @param detail where the worst value was, or why it is not judged
 */
public record Check(
        String id,
        String title,
        String rail,
        Reading value,
        double expandedU,
        double coverageDimensionless,
        Band limit,
        Unit unit,
        Verdict verdict,
        OptionalDouble testUncertaintyRatio,
        String detail) {
    /** A check whose limit has no width. */
    @SuppressWarnings("ParameterNumber") // the record's own components
    public Check(
            String id,
            String title,
            String rail,
            Reading value,
            double expandedU,
            double coverageDimensionless,
            Band limit,
            Unit unit,
            Verdict verdict,
            String detail) {
        this(
                id,
                title,
                rail,
                value,
                expandedU,
                coverageDimensionless,
                limit,
                unit,
                verdict,
                OptionalDouble.empty(),
                detail);
    }
}

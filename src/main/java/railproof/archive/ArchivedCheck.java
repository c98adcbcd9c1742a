package railproof.archive;

import java.util.Optional;
import railproof.judge.Check;

/**
 * One check of an archived run.
 *
 * @param runKey the run's key
 * @param place its place in the run's verdict, from 0
 * @param checkId stable short name
 * @param rail the rail's name
 * @param title for people
 * @param unit symbol of the unit of value and limits
 * @param valueDimensionless the value in that unit; empty if it is missing
 * @param expandedU its expanded uncertainty, in that unit
 * @param lowDimensionless lower limit; empty if there is none
 * @param highDimensionless upper limit; empty if there is none
 * @param verdict as {@link ArchivedRun#verdict}
 */
public record ArchivedCheck(
        String runKey,
        int place,
        String checkId,
        String rail,
        String title,
        String unit,
        Optional<Double> valueDimensionless,
        double expandedU,
        Optional<Double> lowDimensionless,
        Optional<Double> highDimensionless,
        String verdict) {

    /** The row of a check. */
    public static ArchivedCheck of(String runKey, int place, Check check) {
        return new ArchivedCheck(
                runKey,
                place,
                check.id(),
                check.rail(),
                check.title(),
                check.unit().symbol(),
                check.value().measured().map(measured -> measured.value()),
                check.expandedU(),
                finite(check.limit().low()),
                finite(check.limit().high()),
                ArchivedRun.word(check.verdict()));
    }

    private static Optional<Double> finite(double end) {
        return Double.isInfinite(end) ? Optional.empty() : Optional.of(end);
    }
}

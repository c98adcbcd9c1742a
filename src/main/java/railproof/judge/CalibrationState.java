package railproof.judge;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.run.ChannelAccuracy;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;

/**
 * Whether a run's readings rest on a calibration that was in force when it started. Only the outputs count: what is
 * judged is read there; line, reservoir and the inner nodes are conditions and clues, and the load answers for its own
 * current with its own certificate. Pure: follows from the archived run alone.
 *
 * @param kind how it stands
 * @param due the first day on which a channel's calibration ends; empty if none is calibrated
 * @param words the same for people
 */
public record CalibrationState(Kind kind, Optional<LocalDate> due, String words) {
    /** How it stands. */
    public enum Kind {
        /** Every output was calibrated, and not yet due again. */
        IN_FORCE,
        /** Every output was calibrated, at least one longer ago than it may be. */
        EXPIRED,
        /** At least one output was never calibrated, or the run does not say. */
        MISSING
    }

    /** Whether the calibration lets a run be signed off. */
    public boolean allowsSignOff() {
        return kind == Kind.IN_FORCE;
    }

    /** The state of a run's calibration for the rails that were judged. */
    public static CalibrationState of(RunData run, Judgement judgement) {
        return of(
                run,
                judgement.checks().stream()
                        .map(Check::rail)
                        .filter(rail -> !rail.equals(Envelope.WHOLE_UNIT))
                        .distinct()
                        .toList());
    }

    /** The state of a run's calibration for these rails. */
    static CalibrationState of(RunData run, List<String> rails) {
        LocalDate day = run.header().startedAt().atZone(ZoneOffset.UTC).toLocalDate();
        List<String> without = new ArrayList<>();
        Optional<LocalDate> due = Optional.empty();
        for (String rail : rails) {
            Optional<LocalDate> own = accuracy(run, rail, Quantity.OUTPUT)
                    .flatMap(ChannelAccuracy::calibration)
                    .filter(calibrated -> !calibrated.on().isAfter(day))
                    .map(ChannelAccuracy.Calibrated::dueOn);
            if (own.isEmpty()) {
                without.add(rail);
            } else if (due.isEmpty() || own.get().isBefore(due.get())) {
                due = own;
            }
        }
        if (due.isEmpty()) {
            return new CalibrationState(Kind.MISSING, due, "no calibration");
        }
        if (!without.isEmpty()) {
            return new CalibrationState(Kind.MISSING, due, "no calibration for " + String.join(", ", without));
        }
        if (due.get().isBefore(day)) {
            return new CalibrationState(Kind.EXPIRED, due, "calibration expired on " + due.get());
        }
        return new CalibrationState(Kind.IN_FORCE, due, "in force, due " + due.get());
    }

    /** What the run says of the channel a quantity was read on; empty if nothing. */
    static Optional<ChannelAccuracy> accuracy(RunData run, String rail, Quantity quantity) {
        return run.events().stream()
                .filter(RunEvent.ChannelUsed.class::isInstance)
                .map(event -> ((RunEvent.ChannelUsed) event).accuracy())
                .filter(accuracy -> accuracy.rail().equals(rail) && accuracy.quantity() == quantity)
                .findFirst();
    }
}

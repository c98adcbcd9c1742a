package railproof.rig;

import java.util.Locale;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.instrument.LoadMode;
import railproof.instrument.LoadReading;

/**
 * Whether what the instruments say of a rail can be true together. Coarse on purpose: it finds leads that are off, fuses
 * that are gone and inputs that are broken; what is only inaccurate is the business of the uncertainty.
 *
 * <p>Thread: pure; any.
 */
final class Plausibility {
    /** Less than this part of the current asked for is none of it: a load in regulation keeps within a percent. */
    private static final double NONE_RATIO = 0.2;
    /** Only a rail that still gives this part of its nominal voltage could have given the current. */
    private static final double GIVING_RATIO = 0.5;
    /** Board and load may differ by this share of what they see, and by this much, V, for their errors. */
    private static final double SAME_RATIO = 0.02;

    private static final double SAME_V = 0.1;
    /** A current below this is no current, A, however well the load knows its zero. */
    private static final double NO_CURRENT_A = 0.02;
    /** The zero of a load's meter is within this many standard uncertainties. */
    private static final double ZERO_COVERAGE = 10;

    private final RailPosition position;
    private final Envelope envelope;
    private final double leadOhm;

    /** For one rail as it is connected. */
    Plausibility(RailPosition position, Envelope envelope, double leadOhm) {
        this.position = position;
        this.envelope = envelope;
        this.leadOhm = leadOhm;
    }

    /** Largest current a load with its input off may seem to draw, A. */
    static double offLimitA(RailPosition position) {
        double zeroU =
                position.loadAccuracy().level(Measured.of(0, 0, Unit.AMPERE), 1).standardU();
        return Math.max(NO_CURRENT_A, ZERO_COVERAGE * zeroU);
    }

    /**
     * What cannot be, in words; empty if all can. The load's input is on and settled.
     *
     * @param mode what the load was asked for
     * @param level how much of it, A, V or Ω
     * @param board what the board sees at the unit's terminals
     * @param load what the load sees at its own
     */
    Optional<String> doubt(LoadMode mode, double level, Bench.Look board, LoadReading load) {
        Optional<String> missing = missingCurrent(mode, level, board, load);
        return missing.isPresent() ? missing : differentVoltages(board, load);
    }

    private Optional<String> missingCurrent(LoadMode mode, double level, Bench.Look board, LoadReading load) {
        double outputV = Math.abs(board.meanV());
        double expectedA =
                switch (mode) {
                    case CURRENT -> level;
                    case RESISTANCE -> outputV / Math.max(level, 1e-6);
                    case VOLTAGE -> 0;
                };
        boolean giving =
                outputV >= GIVING_RATIO * Math.abs(envelope.nominalV()) && outputV >= 2 * position.loadMinimumV();
        if (!giving || expectedA * NONE_RATIO <= offLimitA(position) || load.currentA() >= expectedA * NONE_RATIO) {
            return Optional.empty();
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "asked for %.3g A on %s, load \"%s\" sees %.3g A at %.3g V while the board sees %.4g V:"
                        + " load lead, contactor or fuse",
                expectedA,
                position.rail(),
                position.load().name(),
                load.currentA(),
                load.voltageV(),
                board.meanV()));
    }

    private Optional<String> differentVoltages(Bench.Look board, LoadReading load) {
        double a = Math.abs(board.minV());
        double b = Math.abs(board.maxV());
        double loadV = Math.abs(load.voltageV());
        double higherV = Math.max(a, b);
        double lowerV = board.minV() * board.maxV() < 0 ? 0 : Math.min(a, b);
        if (Math.max(higherV, loadV) < GIVING_RATIO * Math.abs(envelope.nominalV())) {
            return Optional.empty(); // a rail held down, or tripping: it moves faster than two instruments can be asked
        }
        double marginV = SAME_V + SAME_RATIO * Math.max(higherV, loadV);
        double dropV = 2 * leadOhm * load.currentA();
        if (loadV <= higherV + marginV && loadV >= lowerV - marginV - dropV) {
            return Optional.empty();
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "on %s the board sees %.4g V and load \"%s\" %.4g V: sense lead, load lead or a broken input",
                position.rail(),
                board.meanV(),
                position.load().name(),
                load.voltageV()));
    }
}

package railproof.judge;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Measured;
import railproof.profile.PartList;
import railproof.profile.PartValue;
import railproof.profile.Rail;
import railproof.profile.RectifierKind;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.signal.Reservoir;

/**
 * What a capture of the reservoir says of its capacitance: between two charging pulses it alone feeds the rail, so it
 * falls by the current over the capacitance. What the regulator itself draws is not in the load's current and makes the
 * result smaller, by a percent or two at full load.
 */
final class ReservoirAge {
    /**
     * From so far below nominal on an electrolytic is called ageing, and from there on worn out. Common practice, no
     * source: makers end the life of theirs at 20 % or 30 % below, by the series.
     */
    private static final double AGEING_RATIO = 0.8;

    private static final double WORN_RATIO = 0.7;

    private static final MathContext THREE_DIGITS = new MathContext(3);

    private ReservoirAge() {}

    /**
     * In words, if the profile knows the part, the capture shows it falling, and the load's current is known.
     *
     * @param rail as the profile of the run has it
     * @param rawV the reservoir's channel in the point's capture, V
     * @param rateHz its samples per second, Hz
     * @param leastV what the channel's noise leaves to be seen, V
     */
    static Optional<String> of(Rail rail, Point point, double[] rawV, double rateHz, double leastV) {
        Optional<Double> loadA = point.reading(Quantity.LOAD_CURRENT).measured().map(Measured::value);
        Optional<Double> lineHz =
                point.reading(Quantity.LINE_FREQUENCY).measured().map(Measured::value);
        Optional<PartList> parts = rail.parts();
        if (loadA.isEmpty() || lineHz.isEmpty() || loadA.get() <= 0 || parts.isEmpty()) {
            return Optional.empty();
        }
        Reservoir.Rectifier rectifier = parts.get().rectifier() == RectifierKind.HALF_WAVE
                ? Reservoir.Rectifier.HALF_WAVE
                : Reservoir.Rectifier.FULL_WAVE;
        double[] uprightV = rawV.clone();
        if (rail.nominalV() < 0) {
            for (int i = 0; i < uprightV.length; i++) {
                uprightV[i] = -uprightV[i];
            }
        }
        try {
            double fallVPerS = -Reservoir.dischargeSlopeVPerS(uprightV, rectifier, rateHz, lineHz.get());
            // within one of the stretches it is read from, the fall has to rise above the noise
            double stretchS = Reservoir.STRETCH_RATIO / (rectifier.pulses() * lineHz.get());
            if (fallVPerS * stretchS < leastV) {
                return Optional.empty();
            }
            return Optional.of(words(loadA.get() / fallVPerS, parts.get().nominal(PartValue.RESERVOIR)));
        } catch (IllegalArgumentException e) {
            // nothing falls, or the capture is too short: nothing to say
            return Optional.empty();
        }
    }

    private static String words(double capacitanceF, double nominalF) {
        double ratio = capacitanceF / nominalF;
        String age = "";
        if (ratio <= WORN_RATIO) {
            age = ": worn out, or not all of it connected";
        } else if (ratio <= AGEING_RATIO) {
            age = ": ageing, or at the end of a new one's tolerance";
        }
        return String.format(
                Locale.ROOT,
                "about %s µF by its fall between two charging pulses, %.0f %% of the %s µF in the profile%s",
                microfarads(capacitanceF),
                100 * ratio,
                microfarads(nominalF),
                age);
    }

    private static String microfarads(double capacitanceF) {
        return new BigDecimal(capacitanceF * 1e6).round(THREE_DIGITS).toPlainString();
    }
}

package railproof.diagnosis;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import railproof.profile.PartValue;
import railproof.profile.UnitPart;

/** Part values fitted to the nodes of ngspice's supply, whose parts are known. */
final class PartFitTest {
    private static final EnumSet<ProbeNode> NODES =
            EnumSet.of(ProbeNode.OUTPUT, ProbeNode.RAW, ProbeNode.BASE, ProbeNode.REFERENCE, ProbeNode.SENSE_TAP);

    private static PartFit.Result fit(Readings readings) {
        return PartFit.of(
                Bench12V.loadedRail(),
                Bench12V.profile().line(),
                Diagnosis.of(Bench12V.dictionary(), Priors.usual(), readings));
    }

    private static PartFit.Fitted fitted(String name, PartValue part) {
        List<PartFit.Fitted> all = fit(Bench12V.outside(name, NODES)).parts();
        return all.stream()
                .filter(f -> f.part() == part)
                .findFirst()
                .orElseThrow(() -> new AssertionError(part + " was not told: " + all));
    }

    /** Within the fit's own expanded uncertainty and a tenth for the devices the model guesses. */
    @ParameterizedTest
    @CsvSource({
        "healthy, RESERVOIR, 6800e-6, false",
        "healthy, WINDING, 0.32, false",
        "reservoir C -50 %, RESERVOIR, 3400e-6, true",
        "reservoir C -90 %, RESERVOIR, 680e-6, true",
        "reservoir ESR 1 ohm, RESERVOIR_ESR, 1.0, true",
        "secondary/joint R +1 ohm, WINDING, 1.32, true"
    })
    void theValueThatWasPutInComesOut(String name, PartValue part, double truth, boolean outside) {
        PartFit.Fitted fitted = fitted(name, part);

        double u = fitted.fitted().standardU();
        assertEquals(truth, fitted.fitted().value(), 2 * u + 0.1 * truth, fitted.toString());
        assertTrue(u < 0.2 * fitted.fitted().value(), "says next to nothing: " + fitted);
        assertEquals(outside, fitted.outside(), fitted.toString());
    }

    @Test
    void whatTheReadingsDoNotBearOnIsNotShown() {
        List<PartFit.Fitted> fromOutput = fit(Bench12V.outside("healthy", EnumSet.of(ProbeNode.REFERENCE)))
                .parts();

        assertTrue(fromOutput.stream().noneMatch(f -> f.part() == PartValue.RESERVOIR), fromOutput.toString());
    }

    /**
     * A part that is sound comes out within its tolerance, give or take the fit's own uncertainty, whatever else is wrong;
     * or it is not shown.
     */
    @ParameterizedTest
    @MethodSource("outsideNames")
    void noSoundPartIsCalledOutsideItsTolerance(String name) {
        Optional<UnitPart> bad = Bench12V.outsideFault(name).map(PartFault::part);

        for (PartFit.Fitted fitted : fit(Bench12V.outside(name, NODES)).parts()) {
            if (bad.isEmpty() || partOf(fitted.part()) != bad.get()) {
                assertFalse(fitted.outside(), name + ": " + fitted);
            }
        }
    }

    static List<String> outsideNames() {
        return Bench12V.outsideNames();
    }

    private static UnitPart partOf(PartValue value) {
        return switch (value) {
            case RESERVOIR, RESERVOIR_ESR -> UnitPart.RESERVOIR_CAPACITOR;
            case WINDING -> UnitPart.SECONDARY_JOINT;
            case SENSE -> UnitPart.SENSE_RESISTOR;
            case REFERENCE -> UnitPart.REFERENCE_DIODE;
            case BASE_FEED -> UnitPart.BASE_FEED;
            case DIVIDER_UPPER -> UnitPart.DIVIDER_UPPER;
            default -> throw new IllegalArgumentException("is not fitted: " + value);
        };
    }

    /** 67.5 by ngspice 39 ({@code loop-gain.cir}); a fifth for the slopes of the devices the model guesses. */
    @Test
    void theLoopGainComesOut() {
        PartFit.FittedGain gain =
                fit(Bench12V.outside("healthy", NODES)).loopGain().orElseThrow();

        assertEquals(67.5, gain.fitted().value(), 0.2 * 67.5 + 2 * gain.fitted().standardU(), gain.toString());
        assertTrue(gain.fitted().standardU() < 0.25 * gain.fitted().value(), "says next to nothing: " + gain);
    }

    /** Output and reference of two different units: no part values give both. */
    @Test
    void readingsThatNoPartsExplainGiveNoParts() {
        Readings readings = Bench12V.outside("healthy", NODES);
        readings = Bench12V.with(readings, Sight.REFERENCE, Condition.FULL_LOAD, 4.2, 0.002);
        readings = Bench12V.with(readings, Sight.SENSE_TAP, Condition.HALF_LOAD, 9, 0.002);
        readings = Bench12V.with(readings, Sight.RAW_RIPPLE, Condition.FULL_LOAD, 0.02, 0.01);

        PartFit.Result result = fit(readings);

        assertTrue(result.refused(), result.toString());
        assertEquals(List.of(), result.parts());
    }

    @Test
    void withoutPartValuesThereIsNothingToCompareWith() {
        PartFit.Result result = PartFit.of(
                Bench12V.changed(Optional.empty()),
                Bench12V.profile().line(),
                Diagnosis.of(Bench12V.dictionary(), Priors.usual(), Bench12V.outside("healthy", NODES)));

        assertEquals(PartFit.Result.nothing(false), result);
    }
}

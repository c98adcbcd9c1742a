package railproof.diagnosis;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.profile.SourceText;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Stage;
import railproof.run.Waveform;

/** What a diagnosis finds in an archived run, and what it leaves alone. */
final class RunReadingsTest {
    private static final Profile TYPE = Bench12V.profile();
    private static final Rail RAIL = Bench12V.rail();
    private static final double LINE_V = TYPE.line().nominalV();

    private final List<Point> points = new ArrayList<>();
    private final List<Waveform> waveforms = new ArrayList<>();

    private void point(Section section, Setpoint asked, String note, Map<Quantity, Reading> readings) {
        points.add(new Point(
                points.size(), section, RAIL.name(), asked, points.size(), true, readings, OptionalInt.empty(), note));
    }

    private static Setpoint current(double amps) {
        return new Setpoint("CC", amps, LINE_V);
    }

    private static Map<Quantity, Reading> output(double volts) {
        return Map.of(Quantity.OUTPUT, Measured.of(volts, 2e-3, Unit.VOLT));
    }

    private Readings read() {
        return read(RAIL);
    }

    private Readings read(Rail rail) {
        RunHeader header = new RunHeader(
                "20261125T101530Z_LC2107_as-found",
                "LC2107",
                Stage.AS_FOUND,
                "",
                Instant.parse("2026-11-25T10:15:30Z"),
                "0",
                new SourceText("p", "", ""),
                new SourceText("r", "", ""),
                new SourceText("c", "", ""),
                false,
                "",
                List.of());
        RunOutcome outcome = new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), SafeState.CONFIRMED);
        return RunReadings.of(new RunData(header, points, waveforms, List.of(), outcome), TYPE, rail);
    }

    private static double value(Readings readings, Sight sight, Condition at) {
        return readings.of(sight, at)
                .orElseThrow(() -> new AssertionError(
                        sight + " " + at + " not in " + readings.values().keySet()))
                .value();
    }

    @Test
    void sweepsGiveTheOutputUnderEveryCondition() {
        point(Section.NO_LOAD, Setpoint.noLoad(LINE_V), "", output(12.17));
        for (double amps : new double[] {0, 0.2, 0.5, 1, 1.5, 1.8, 2}) {
            point(Section.LOAD_SWEEP, current(amps), "", output(12.16 - 0.01 * amps));
        }
        for (double lineV :
                new double[] {TYPE.line().lowV(), LINE_V, TYPE.line().highV()}) {
            point(Section.LINE_SWEEP, new Setpoint("CC", 2, lineV), "", output(12 + lineV / 1000));
        }

        Readings readings = read();

        assertEquals(12.17, value(readings, Sight.OUTPUT, Condition.NO_LOAD), 1e-12);
        assertEquals(12.15, value(readings, Sight.OUTPUT, Condition.HALF_LOAD), 1e-12);
        assertEquals(12.14, value(readings, Sight.OUTPUT, Condition.FULL_LOAD), 1e-12);
        assertEquals(12 + TYPE.line().lowV() / 1000, value(readings, Sight.OUTPUT, Condition.LOW_LINE), 1e-12);
        assertEquals(12 + TYPE.line().highV() / 1000, value(readings, Sight.OUTPUT, Condition.HIGH_LINE), 1e-12);
        assertEquals(5, readings.values().size());
    }

    @Test
    void theBaseIsComparedWithTheOutputAndTheLineWithWhatWasAsked() {
        Map<Quantity, Reading> all = new EnumMap<>(Quantity.class);
        all.put(Quantity.OUTPUT, Measured.of(12.1, 3e-3, Unit.VOLT));
        all.put(Quantity.BASE, Measured.of(13.9, 4e-3, Unit.VOLT));
        all.put(Quantity.LINE, Measured.of(0.97 * LINE_V, 0.1, Unit.VOLT));
        all.put(Quantity.REFERENCE, new Missing("no channel"));
        point(Section.LOAD_SWEEP, current(2), "", all);

        Readings readings = read();

        Measured base = readings.of(Sight.BASE, Condition.FULL_LOAD).orElseThrow();
        assertEquals(1.8, base.value(), 1e-12);
        assertEquals(5e-3, base.standardU(), 1e-12);
        assertEquals(0.97, value(readings, Sight.LINE, Condition.FULL_LOAD), 1e-12);
        assertTrue(readings.of(Sight.REFERENCE, Condition.FULL_LOAD).isEmpty(), "a missing reading is none");
    }

    @Test
    void aNegativeRailIsReadUpright() {
        Rail rail = RAIL;
        Rail negative = new Rail(
                rail.name(),
                -rail.nominalV(),
                rail.ratedCurrentA(),
                rail.minimumLoadA(),
                rail.overVoltageV(),
                rail.limitShape(),
                rail.maxProbeCurrentA(),
                rail.limits(),
                rail.parts());
        point(
                Section.LOAD_SWEEP,
                current(2),
                "",
                Map.of(
                        Quantity.OUTPUT, Measured.of(-12.1, 3e-3, Unit.VOLT),
                        Quantity.BASE, Measured.of(-13.9, 4e-3, Unit.VOLT),
                        Quantity.RAW, Measured.of(-18, 4e-3, Unit.VOLT)));

        Readings readings = read(negative);

        assertEquals(12.1, value(readings, Sight.OUTPUT, Condition.FULL_LOAD), 1e-12);
        assertEquals(1.8, value(readings, Sight.BASE, Condition.FULL_LOAD), 1e-12);
        assertEquals(18, value(readings, Sight.RAW, Condition.FULL_LOAD), 1e-12);
    }

    @Test
    void theLimitLiesBetweenTheLastThatHeldAndTheFirstThatDidNot() {
        point(Section.CURRENT_LIMIT, current(2.4), "", output(12.1));
        point(Section.CURRENT_LIMIT, current(2.5), "", output(12.0));
        point(Section.CURRENT_LIMIT, current(2.6), "collapsed", output(3));
        for (double ohm : new double[] {3, 0.5, 0.1}) {
            point(
                    Section.CURRENT_LIMIT,
                    new Setpoint("CR", ohm, LINE_V),
                    "",
                    Map.of(Quantity.LOAD_CURRENT, Measured.of(2.5 + 0.1 / ohm, 1e-3, Unit.AMPERE)));
        }

        Readings readings = read();

        assertEquals(2.55, value(readings, Sight.LIMIT, Condition.FULL_LOAD), 1e-12);
        assertEquals(3.5, value(readings, Sight.SHORT, Condition.FULL_LOAD), 1e-12);
    }

    @Test
    void aRailThatCarriedAllThatMayBeDrawnHasNoLimitUpToThere() {
        point(Section.CURRENT_LIMIT, current(RAIL.maxProbeCurrentA()), "", output(11.9));

        assertEquals(RAIL.maxProbeCurrentA(), value(read(), Sight.LIMIT, Condition.FULL_LOAD), 1e-12);
    }

    @Test
    void aSearchThatWasBrokenOffSaysNothingOfTheLimit() {
        point(Section.CURRENT_LIMIT, current(2.2), "", output(12.1));

        assertTrue(read().of(Sight.LIMIT, Condition.FULL_LOAD).isEmpty());
    }

    @Test
    void aTripLeavesAnEstimateOfWhereTheOutputWasGoing() {
        point(Section.NO_LOAD, Setpoint.noLoad(LINE_V), "tripped: output above 14 V", output(16));

        Measured output = read().of(Sight.OUTPUT, Condition.NO_LOAD).orElseThrow();
        assertTrue(output.value() > 16, "still rising: " + output);
        assertTrue(2 * output.standardU() > output.value() - 16, "and nobody knows how far: " + output);
    }

    @Test
    void aDipAfterALoadStepIsMeasuredFromWhereTheOutputSettles() {
        double[] volts = new double[4000];
        Arrays.fill(volts, 12.2);
        for (int i = 1000; i < volts.length; i++) {
            volts[i] = 12.1 - 0.4 * Math.exp(-(i - 1000) / 10.0);
        }
        waveforms.add(new Waveform(
                0, Section.LOAD_STEP, RAIL.name(), 0, 100_000, List.of(new Waveform.Trace("output_V", volts))));

        assertEquals(0.4, value(read(), Sight.UNDERSHOOT, Condition.FULL_LOAD), 1e-6);
    }

    @Test
    void aBurnInGivesTheWarmReadingTheHeatSinkAndFallsBetweenLooks() {
        for (int i = 0; i < 40; i++) {
            point(Section.BURN_IN, current(1.8), "", output(i == 17 ? 4 : 12.1));
        }
        Map<Quantity, Reading> hot = new EnumMap<>(Quantity.class);
        hot.put(Quantity.OUTPUT, Measured.of(11.8, 2e-3, Unit.VOLT));
        hot.put(Quantity.HEAT_SINK, Measured.of(61, 1, Unit.CELSIUS));
        point(Section.BURN_IN_HOT, current(2), "", Map.of(Quantity.OUTPUT, Measured.of(12, 2e-3, Unit.VOLT)));
        point(Section.BURN_IN_HOT, current(2), "", hot);

        Readings readings = read();

        assertEquals(11.8, value(readings, Sight.OUTPUT, Condition.WARM), 1e-12, "the last one counts");
        assertEquals(61, value(readings, Sight.HEAT_SINK, Condition.WARM), 1e-12);
        assertEquals(8.1, value(readings, Sight.OUTPUT_DIP, Condition.FULL_LOAD), 1e-12);
    }

    @Test
    void aHeatSinkThatHasNotWarmedThroughIsNoEvidence() {
        Map<Quantity, Reading> early = new EnumMap<>(Quantity.class);
        early.put(Quantity.OUTPUT, Measured.of(12.1, 2e-3, Unit.VOLT));
        early.put(Quantity.HEAT_SINK, Measured.of(27, 1, Unit.CELSIUS));
        point(Section.LOAD_SWEEP, current(2), "", early);

        assertTrue(read().nodes().equals(java.util.Set.of(ProbeNode.OUTPUT)), "read: " + read());
    }

    @Test
    void anotherRailsPointsAreLeftAlone() {
        point(Section.LOAD_SWEEP, current(2), "", output(12.1));
        Rail other = new Rail("-12 V", -12, 2, 0, 14, RAIL.limitShape(), 3.5, RAIL.limits(), Optional.empty());

        assertTrue(read(other).values().isEmpty());
    }

    @Test
    void aCaptureGivesTheRippleAtTheLineFrequencyItself() {
        double lineHz = TYPE.line().frequencyHz();
        double rateHz = 200 * lineHz;
        double[] out = new double[1000];
        for (int i = 0; i < out.length; i++) {
            double t = i / rateHz;
            out[i] = 12 + 0.02 * Math.sin(2 * Math.PI * lineHz * t) + 0.05 * Math.sin(4 * Math.PI * lineHz * t);
        }
        waveforms.add(new Waveform(
                3, Section.LOAD_SWEEP, RAIL.name(), 0, rateHz, List.of(new Waveform.Trace("output_V", out))));
        points.add(
                new Point(0, Section.LOAD_SWEEP, RAIL.name(), current(2), 0, true, output(12), OptionalInt.of(3), ""));

        assertEquals(0.02, value(read(), Sight.OUTPUT_LINE, Condition.FULL_LOAD), 1e-4);
    }
}

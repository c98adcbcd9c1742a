package railproof.rig;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.instrument.LoadMode;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;

/** What is stored after the end: 190 V that leak away with a time constant of 10 s once the line is off. */
class DischargeWatchTest {
    private static final double TAU_S = 10;

    private final FakeRig rig = new FakeRig();
    private double offAtS = -1;

    private void charged(double volts, double tauS) {
        rig.board.holdsCharge = true;
        rig.board.onRead = () -> {
            double nowS = rig.clock.nowNs() / 1e9;
            boolean lineOn = rig.board.relays != 0;
            if (lineOn) {
                offAtS = -1;
            } else if (offAtS < 0) {
                offAtS = nowS;
            }
            rig.board.outputV = lineOn ? volts : volts * Math.exp(-(nowS - offAtS) / tauS);
        };
    }

    private static void energise(Bench bench) throws RunEndException {
        bench.envelope(FakeRig.RAIL, new Envelope(190, 210, 0.1));
        bench.lineOn(230, 50);
        bench.load(FakeRig.RAIL, LoadMode.CURRENT, 0.05);
        bench.loadInput(FakeRig.RAIL, true);
        bench.look(FakeRig.RAIL, 0.1);
    }

    private List<Point> points() {
        return rig.events.stream()
                .filter(RunEvent.PointTaken.class::isInstance)
                .map(event -> ((RunEvent.PointTaken) event).point())
                .filter(point -> point.section() == Section.DISCHARGE)
                .toList();
    }

    private String notes() {
        return String.join(
                "\n",
                rig.events.stream()
                        .filter(RunEvent.Note.class::isInstance)
                        .map(event -> ((RunEvent.Note) event).text())
                        .toList());
    }

    private static double outputV(Point point) {
        return point.reading(Quantity.OUTPUT).measured().map(Measured::value).orElseThrow();
    }

    @Test
    void aHighVoltageRailIsWatchedUntilItIsMeasuredBelowTheLimit() {
        charged(190, TAU_S);

        RunOutcome outcome = rig.run(DischargeWatchTest::energise);

        assertEquals(RunOutcome.End.COMPLETED, outcome.end());
        assertEquals(2, points().size());
        assertTrue(outputV(points().get(0)) > 150, () -> points().toString());
        Point last = points().get(1);
        assertTrue(outputV(last) < DischargeWatch.LIMIT_V, last::toString);
        // R C ln(V0 / V) = 11.5 s to the limit, and the second look 5 s later
        double tookS = last.elapsedS() - points().get(0).elapsedS();
        assertEquals(TAU_S * Math.log(190.0 / 60) + 5, tookS, 1.0);
        assertTrue(notes().contains("measure where you are going to touch"), this::notes);
        assertFalse(notes().contains("safe"), this::notes);
    }

    @Test
    void aStoppedRunIsWatchedJustTheSame() {
        charged(190, TAU_S);

        RunOutcome outcome = rig.run(bench -> {
            energise(bench);
            rig.stop.raise(RunOutcome.End.STOPPED, "stop pressed");
            bench.pause(java.time.Duration.ofSeconds(1));
        });

        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        assertTrue(outputV(points().get(points().size() - 1)) < DischargeWatch.LIMIT_V);
    }

    @Test
    void chargeThatDoesNotGoAwayIsAWarningAfterFiveMinutes() {
        charged(190, 1e6);

        RunOutcome outcome = rig.run(DischargeWatchTest::energise);

        assertEquals("still charged", points().get(points().size() - 1).note());
        assertTrue(notes().contains("still 189.9 V at the output"), this::notes);
        assertEquals(RunOutcome.End.COMPLETED, outcome.end());
    }

    @Test
    void aProgramToldToEndDoesNotWaitButSaysWhatIsStored() {
        charged(190, TAU_S);

        rig.run(bench -> {
            energise(bench);
            rig.stop.hurry();
            rig.stop.raise(RunOutcome.End.STOPPED, "the program was told to end");
            bench.pause(java.time.Duration.ofSeconds(1));
        });

        assertEquals("still charged", points().get(points().size() - 1).note());
    }

    @Test
    void aBoardThatFellSilentIsSaidToLeaveTheChargeUnknown() {
        charged(190, TAU_S);

        rig.run(bench -> {
            energise(bench);
            rig.board.dead = true;
            bench.look(FakeRig.RAIL, 0.1);
        });

        assertTrue(notes().contains("cannot be measured"), this::notes);
    }

    @Test
    void lowVoltageRailsAreNotWaitedFor() {
        rig.run(FakeRig::energise);

        assertTrue(points().isEmpty());
    }
}

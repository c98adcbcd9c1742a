package railproof.rig;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.OptionalInt;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import railproof.instrument.BoardState;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.RunOutcome.End;
import railproof.run.SafeState;

/** Every way in which a run can end: the load is off, one cause is named, and it is said how sure "off" is. */
class ExitMatrixTest {
    private final FakeRig fake = new FakeRig();

    private void everythingIsOff() {
        assertFalse(fake.load.on, "load input");
        assertFalse(fake.board.loadEnabled, "load contactor");
        assertEquals(0, fake.board.relays, "relays");
    }

    private void ends(RunOutcome outcome, End end, SafeState safe, String causePart) {
        assertEquals(end, outcome.end(), outcome.cause());
        assertEquals(safe, outcome.safeState(), String.join("; ", outcome.later()));
        assertTrue(outcome.cause().contains(causePart), outcome.cause());
        RunEvent last = fake.events.get(fake.events.size() - 1);
        assertEquals(outcome, assertInstanceOf(RunEvent.RunEnded.class, last).outcome());
    }

    @Test
    void aCompletedRunEndsOff() {
        RunOutcome outcome = fake.run(FakeRig::energise);

        everythingIsOff();
        ends(outcome, End.COMPLETED, SafeState.CONFIRMED, "");
    }

    @Test
    void overVoltageTripsAndTheReadingIsAPointOfTheRecord() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.outputV = 9;
            bench.look(FakeRig.RAIL, 0.1);
        });

        everythingIsOff();
        ends(outcome, End.TRIPPED, SafeState.CONFIRMED, "over-voltage on +5V: 9.000 V");
        assertTrue(fake.events.stream()
                .anyMatch(e ->
                        e instanceof RunEvent.PointTaken p && p.point().note().equals("tripped")));
    }

    @Test
    void wrongPolarityTrips() {
        RunOutcome outcome = fake.run(bench -> {
            bench.envelope(FakeRig.RAIL, new Envelope(5, 6, 10));
            bench.lineOn(115, 60);
            fake.board.outputV = -4.8;
            bench.look(FakeRig.RAIL, 0.1);
        });

        everythingIsOff();
        ends(outcome, End.TRIPPED, SafeState.CONFIRMED, "wrong polarity on +5V");
    }

    @Test
    void anOperatorsStopDuringAPauseEndsWithinOneSlice() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.stop.raise(End.STOPPED, "stopped by the operator");
            bench.pause(Duration.ofHours(1));
        });

        everythingIsOff();
        ends(outcome, End.STOPPED, SafeState.CONFIRMED, "stopped by the operator");
        assertTrue(fake.clock.nowNs() < 1_000_000_000L, "an hour was not waited for");
    }

    @Test
    void aBugInAProcedureGoesSafeFirstAndIsNamed() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            throw new IllegalStateException("planted");
        });

        everythingIsOff();
        ends(
                outcome,
                End.FAULTED,
                SafeState.CONFIRMED,
                "a bug in the program: java.lang.IllegalStateException: planted");
    }

    @Test
    void anErrorInAProcedureGoesSafeToo() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            throw new AssertionError("planted");
        });

        everythingIsOff();
        ends(outcome, End.FAULTED, SafeState.CONFIRMED, "planted");
    }

    @Test
    void anInterruptGoesSafeAndStaysSet() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            Thread.currentThread().interrupt();
            bench.pause(Duration.ofSeconds(1));
        });

        assertTrue(Thread.interrupted(), "the flag is handed back to the caller");
        everythingIsOff();
        ends(outcome, End.STOPPED, SafeState.CONFIRMED, "interrupted");
    }

    @Test
    void aDeadLoadIsConfirmedOffByTheBoardsContactor() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.load.dead = true;
            bench.loadCurrent(FakeRig.RAIL);
        });

        assertFalse(fake.board.loadEnabled);
        ends(outcome, End.FAULTED, SafeState.CONFIRMED, "the port is gone");
    }

    @Test
    void aDeadBoardLeavesTheLineUnconfirmed() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.dead = true;
            bench.look(FakeRig.RAIL, 0.1);
        });

        assertFalse(fake.load.on);
        ends(outcome, End.FAULTED, SafeState.UNKNOWN, "the port is gone");
    }

    @Test
    void aLoadThatLiesAboutOffIsNotBelievedWithoutAContactor() {
        FakeRig bare = new FakeRig(false);

        RunOutcome outcome = bare.run(bench -> {
            FakeRig.energise(bench);
            bare.load.ignoresOff = true;
        });

        assertTrue(bare.load.on, "the fake does stay on");
        assertEquals(SafeState.UNKNOWN, outcome.safeState(), "it is seen to draw");
        assertTrue(String.join("\n", outcome.later()).contains("load: still draws 2.00 A"), () -> outcome.later()
                .toString());
        assertEquals(3, bare.load.heard.stream().filter("input false"::equals).count(), "three tries");
    }

    @Test
    void aBoardThatTrippedByItselfIsTheCause() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.state = BoardState.TRIPPED;
            fake.board.faults.add("LIMIT_HIGH");
            fake.board.tripChannel = OptionalInt.of(0);
            fake.board.tripCode = 9100;
            bench.pause(Duration.ofSeconds(2));
        });

        everythingIsOff();
        ends(outcome, End.TRIPPED, SafeState.CONFIRMED, "over-voltage on +5V: 9.100 V");
        assertTrue(fake.events.stream()
                .anyMatch(e ->
                        e instanceof RunEvent.PointTaken p && p.point().note().equals("tripped")));
    }

    @Test
    void aBoardThatTrippedForReasonsOfItsOwnIsARigFault() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.state = BoardState.TRIPPED;
            fake.board.faults.add("HOST_SILENT");
            bench.pause(Duration.ofSeconds(2));
        });

        everythingIsOff();
        ends(outcome, End.FAULTED, SafeState.CONFIRMED, "the board tripped: HOST_SILENT");
    }

    @Test
    void anOpenInterlockStops() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.board.inputs = 0;
            bench.pause(Duration.ofSeconds(2));
        });

        everythingIsOff();
        ends(outcome, End.STOPPED, SafeState.CONFIRMED, "interlock open");
    }

    @Test
    void aFullDiskEndsTheRunSafely() {
        AtomicInteger kept = new AtomicInteger();
        fake.control.connect();
        RunOutcome outcome = fake.control.run(
                bench -> {
                    FakeRig.energise(bench);
                    for (int i = 0; i < 10; i++) {
                        bench.note(RunEvent.Note.Level.INFO, "line " + i);
                    }
                },
                Operator.nobody(),
                event -> wait -> {
                    if (event instanceof RunEvent.Note && kept.incrementAndGet() > 3) {
                        throw FakeLoad.diskFull();
                    }
                    return true;
                });

        everythingIsOff();
        assertEquals(End.FAULTED, outcome.end());
        assertTrue(outcome.cause().contains("no space left on device"), outcome.cause());
    }

    @Test
    void aSlowDiskDoesNotStarveTheHeartbeat() {
        AtomicInteger asked = new AtomicInteger();
        fake.control.connect();
        RunOutcome outcome = fake.control.run(
                bench -> bench.note(RunEvent.Note.Level.INFO, "slow"), Operator.nobody(), event -> wait -> {
                    fake.clock.advanceTo(fake.clock.nowNs() + 20_000_000);
                    return !(event instanceof RunEvent.Note) || asked.incrementAndGet() > 100;
                });

        assertEquals(End.COMPLETED, outcome.end(), outcome.cause());
        long beats = fake.board.heard.stream().filter("heartbeat"::equals).count();
        // due every 125 ms, looked at every 20 ms: at worst one in 145 ms of 2.02 s
        assertTrue(beats >= 13, "got " + beats);
    }

    @Test
    void aQuestionNobodyAnswersEndsTheRun() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            bench.ask("Connect the second rail. Done?");
        });

        everythingIsOff();
        ends(outcome, End.STOPPED, SafeState.CONFIRMED, "nobody answered within 60 s");
    }

    @Test
    void aStopWhileMakingSafeChangesNothing() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            fake.stop.raise(End.STOPPED, "first");
            fake.stop.raise(End.STOPPED, "second");
            bench.pause(Duration.ofSeconds(1));
        });

        ends(outcome, End.STOPPED, SafeState.CONFIRMED, "first");
        assertEquals(List.of("second"), outcome.later());
    }

    @Test
    void anInstrumentThatDoesNotAnswerAtFirstContactEndsBeforeAnythingIsEnergised() {
        fake.load.dead = true;

        RunOutcome outcome = fake.run(FakeRig::energise);

        assertEquals(End.FAULTED, outcome.end());
        assertFalse(fake.board.heard.contains("arm 500"), "the board is never armed");
        assertEquals(0, fake.board.relays);
    }

    @Test
    void theWatchFiresOnceWhenTheControlThreadIsSilentWithSomethingOn() throws Exception {
        SafeStateLadder ladder = new SafeStateLadder(fake.rig, fake.rig.lineFeed());
        try (ControlWatch watch = new ControlWatch(fake.rig, ladder)) {
            fake.guard.energised(true);
            assertFalse(watch.look(), "alive");
            fake.clock.advanceTo(600_000_000L);

            assertTrue(watch.look());
            assertFalse(watch.look(), "only once");
        }

        assertTrue(fake.load.heard.contains("EMERGENCY OFF"));
        assertTrue(fake.board.heard.contains("EMERGENCY SAFE"));
        assertTrue(fake.stop.cause().orElseThrow().words().contains("no sign of life"));
    }

    @Test
    void whatTakesLongToWorkOutIsNoSilence() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            int looks = bench.workOut(() -> {
                int seen = 0;
                while (seen < 3) {
                    fake.clock.advanceTo(fake.clock.nowNs() + 300_000_000L);
                    awaitLife();
                    seen++;
                }
                return seen;
            });
            assertEquals(3, looks);
        });

        ends(outcome, End.COMPLETED, SafeState.CONFIRMED, "");
    }

    private void awaitLife() {
        long untilNs = System.nanoTime() + 5_000_000_000L;
        while (fake.guard.silenceNs() > 200_000_000L && System.nanoTime() < untilNs) {
            Thread.onSpinWait();
        }
        assertTrue(fake.guard.silenceNs() < 200_000_000L, "no sign of life while something is worked out");
    }

    @Test
    void aStopDoesNotWaitForWhatIsBeingWorkedOut() {
        CountDownLatch over = new CountDownLatch(1);
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            bench.workOut(() -> {
                fake.stop.raise(End.STOPPED, "operator");
                try {
                    return over.await(10, TimeUnit.SECONDS);
                } catch (InterruptedException e) {
                    throw new IllegalStateException(e);
                }
            });
        });
        assertEquals(1, over.getCount(), "still being worked out when the run had ended");
        over.countDown();

        ends(outcome, End.STOPPED, SafeState.CONFIRMED, "operator");
    }

    @Test
    void anAnalysisThatBreaksOffEndsTheRunSafely() {
        RunOutcome outcome = fake.run(bench -> {
            FakeRig.energise(bench);
            bench.workOut(() -> {
                throw new ArithmeticException("no cycle in it");
            });
        });

        assertEquals(End.FAULTED, outcome.end());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
    }
}

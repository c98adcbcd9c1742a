package railproof.rig;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import railproof.base.VirtualClock;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;

/** One rail, one load, one board, all fake, on a clock that only moves when somebody waits. */
final class FakeRig {
    static final String RAIL = "+5V";

    final VirtualClock clock = new VirtualClock(Instant.parse("2026-01-05T08:00:00Z"));
    final FakeLoad load = new FakeLoad();
    final FakeBoard board = new FakeBoard(clock);
    final StopSignal stop = new StopSignal();
    final RigGuard guard = new RigGuard(clock);
    final List<RunEvent> events = new ArrayList<>();
    final Rig rig;
    final RigControl control;

    FakeRig() {
        this(true);
    }

    /** With a contactor between unit and load or without one. */
    FakeRig(boolean contactor) {
        this(contactor, false);
    }

    FakeRig(boolean contactor, boolean handTurned) {
        this(contactor, handTurned, 1, List.of(RAIL));
    }

    /** With mains that only a hand can switch. */
    static FakeRig withoutLineRelay() {
        return new FakeRig(true, true, 0, List.of(RAIL));
    }

    /** With several rails that share the one load; rail i's output is on channel 0 for the first, 2 + i after it. */
    static FakeRig sharing(String... rails) {
        return new FakeRig(true, false, 1, List.of(rails));
    }

    private FakeRig(boolean contactor, boolean handTurned, int lineRelayMask, List<String> rails) {
        Accuracy accuracy = new Accuracy(1e-3, 1e-3, 1e-4, 1e-4);
        // one volt per 1000 codes at 16 bits
        Channel line = new Channel(1, 32.768, 0, accuracy);
        List<RailPosition> positions = new ArrayList<>();
        for (int i = 0; i < rails.size(); i++) {
            Channel output = new Channel(i == 0 ? 0 : 1 + i, 32.768, 0, accuracy);
            positions.add(new RailPosition(
                    rails.get(i), load, 0, Map.of(Quantity.OUTPUT, output), accuracy, Duration.ofMillis(20), 0.5));
        }
        rig = new Rig(
                clock,
                board,
                positions,
                Optional.empty(),
                line,
                new Rig.Wiring(
                        lineRelayMask,
                        contactor,
                        Duration.ofMillis(500),
                        List.of(new Interlock("cover", 0, false)),
                        handTurned,
                        0.01,
                        Duration.ofMillis(100),
                        Duration.ofSeconds(60),
                        0.01),
                List.of(),
                stop,
                guard);
        control = new RigControl(rig);
    }

    RunSink.Receipt keep(RunEvent event) {
        events.add(event);
        return RunSink.Receipt.KEPT;
    }

    RunOutcome run(RigControl.Work work) {
        return run(work, Operator.nobody());
    }

    RunOutcome run(RigControl.Work work, Operator operator) {
        control.connect();
        return control.run(work, operator, this::keep);
    }

    /** Everything energised as in the middle of a sweep. */
    static void energise(Bench bench) throws RunEndException {
        bench.envelope(RAIL, new Envelope(5, 6, 10));
        bench.lineOn(115, 60);
        bench.load(RAIL, railproof.instrument.LoadMode.CURRENT, 2);
        bench.loadInput(RAIL, true);
    }
}

package railproof.rig;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import railproof.base.Clock;
import railproof.instrument.DaqBoard;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.LineSource;
import railproof.wire.Link;

/**
 * A rig, put together: instruments, how they are wired to the unit's rails, and the guards around them. Built by the
 * composition root for one unit.
 *
 * @param clock the clock all waiting is done by
 * @param board the measuring board
 * @param positions one per rail, in the profile's order
 * @param lineSource the programmable source, empty if the line is turned by hand or fixed
 * @param lineChannel the board channel on the line
 * @param wiring how line and load contactor are switched
 * @param links all links, for the exit hook
 * @param stop where the run is told to end
 * @param guard signs of life of the control thread
 */
public record Rig(
        Clock clock,
        DaqBoard board,
        List<RailPosition> positions,
        Optional<LineSource> lineSource,
        Channel lineChannel,
        Wiring wiring,
        List<Link> links,
        StopSignal stop,
        RigGuard guard) {
    public Rig {
        positions = List.copyOf(positions);
        links = List.copyOf(links);
    }

    /**
     * How the rig switches.
     *
     * @param lineRelayMask board relays that feed the line to the unit; 0 if there is none
     * @param loadContactor whether the board's load-enable contactor lies between unit and loads
     * @param heartbeatTimeout silence after which the board makes itself safe
     * @param interlocks switches on the board's digital inputs that must be closed while anything is energised
     * @param handTurned whether a line without a programmable source can be turned by hand; otherwise it is fixed
     * @param lineBandRatio how near the asked line is near enough for a hand-turned line, a ratio of it
     * @param lineSettle time after a change of the line
     * @param patience how long a question to the operator may stay unanswered
     * @param leadOhm resistance of a pair of load leads, Ω
     */
    public record Wiring(
            int lineRelayMask,
            boolean loadContactor,
            Duration heartbeatTimeout,
            List<Interlock> interlocks,
            boolean handTurned,
            double lineBandRatio,
            Duration lineSettle,
            Duration patience,
            double leadOhm) {
        public Wiring {
            interlocks = List.copyOf(interlocks);
        }

        /** The interlocks that are open, by the board's digital inputs. */
        List<Interlock> open(int inputs) {
            return interlocks.stream()
                    .filter(interlock -> interlock.open(inputs))
                    .toList();
        }
    }

    /** All loads, each once, in order of their positions. */
    List<ElectronicLoad> loads() {
        Map<String, ElectronicLoad> loads = new LinkedHashMap<>();
        for (RailPosition position : positions) {
            loads.putIfAbsent(position.load().name(), position.load());
        }
        return List.copyOf(loads.values());
    }

    /** The line is looked at within the time it is given to settle: what watches the unit must not wait for that too. */
    private Duration settleBeforeTheLook() {
        Duration left = wiring.lineSettle().minus(BoardSight.MAINS_WINDOW);
        return left.isNegative() ? Duration.ZERO : left;
    }

    LineFeed lineFeed() {
        return lineSource
                .<LineFeed>map(source -> new ProgrammableLine(source, settleBeforeTheLook()))
                .orElseGet(() -> new HandTurnedLine(wiring));
    }
}

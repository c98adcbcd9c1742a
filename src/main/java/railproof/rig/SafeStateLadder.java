package railproof.rig;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import railproof.instrument.BoardState;
import railproof.instrument.BoardStatus;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.InstrumentException;
import railproof.run.SafeState;
import railproof.wire.LinkException;

/**
 * Makes the bench safe: load inputs off, load contactor open, line off; each read back, and measured where something can
 * be measured: no load draws, no mains reaches the unit. Never throws; says how sure it is. The order matters: the load lets go of the current before any contact opens.
 *
 * <p>Thread: control thread, except {@link #emergencyOff}, which may come from any.
 */
public final class SafeStateLadder {
    /**
     * More than this at the unit's inlet with everything off is mains, V r.m.s. (the limit of hazardous live voltage;
     * IEC 61010-1 6.3, from memory); less may come through the capacitor across an open contact.
     */
    static final double MAINS_LIMIT_V = 30;

    private static final double HAND_SWITCHED_LIMIT_V = 5;
    private static final int TRIES = 3;
    private static final long METER_NS = 20_000_000L;
    /** Beyond this no further try is begun, ns. */
    static final long BUDGET_NS = 1_000_000_000L;

    private final Rig rig;
    private final LineFeed line;
    private final List<String> remarks = new ArrayList<>();

    SafeStateLadder(Rig rig, LineFeed line) {
        this.rig = rig;
        this.line = line;
    }

    /**
     * Makes everything safe.
     *
     * @param abnormal whether something went wrong: then OFF is first sent past all protocol, because the links may be
     *     in any state
     */
    SafeState makeSafe(boolean abnormal) {
        rig.guard().makingSafe();
        // a pending interrupt would make every read-back fail; whoever set it asked for exactly this
        boolean interrupted = Thread.interrupted();
        if (abnormal) {
            emergencyOff();
        }
        Set<ElectronicLoad> notOff = new LinkedHashSet<>(rig.loads());
        Map<String, Double> drawing = new LinkedHashMap<>();
        boolean boardSafe = false;
        boolean lineOff = false;
        boolean live = false;
        long startNs = rig.clock().nowNs();
        for (int i = 0; i < TRIES && (i == 0 || rig.clock().nowNs() - startNs < BUDGET_NS); i++) {
            Set<ElectronicLoad> saidOff = new HashSet<>();
            notOff.stream()
                    .filter(load -> attempt(load.name(), () -> switchOff(load)))
                    .forEach(saidOff::add);
            lineOff = lineOff || attempt("line", line::makeSafe);
            boardSafe = boardSafe || attempt(rig.board().name(), this::boardSafe);
            settle();
            drawing.clear();
            for (ElectronicLoad load : List.copyOf(notOff)) {
                OptionalDouble seenA = drawnA(load);
                if (seenA.isPresent() && seenA.getAsDouble() > offLimitA(load)) {
                    drawing.put(load.name(), seenA.getAsDouble());
                } else if (seenA.isPresent() && saidOff.contains(load)) {
                    notOff.remove(load);
                }
            }
            live = boardSafe && mainsThere();
            if (notOff.isEmpty() && boardSafe && lineSafe(lineOff, boardSafe) && !live) {
                break;
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
        if (live || !drawing.isEmpty()) {
            emergencyOff();
            drawing.forEach((load, seenA) -> remark(String.format(Locale.ROOT, "%s: still draws %.3g A", load, seenA)));
            return SafeState.UNKNOWN; // whatever the devices say of themselves, it is seen that they are not off
        }
        return sureness(notOff.isEmpty(), boardSafe, lineOff);
    }

    private SafeState sureness(boolean loadsOff, boolean boardSafe, boolean lineOff) {
        boolean loadsSafe = loadsOff || (boardSafe && rig.wiring().loadContactor());
        if (loadsSafe && lineSafe(lineOff, boardSafe)) {
            rig.guard().energised(false);
            return SafeState.CONFIRMED;
        }
        return emergencyOff() ? SafeState.COMMANDED : SafeState.UNKNOWN;
    }

    private boolean lineSafe(boolean lineOff, boolean boardSafe) {
        return lineOff || !line.switchesItself() || (boardSafe && rig.wiring().lineRelayMask() != 0);
    }

    private static boolean switchOff(ElectronicLoad load)
            throws LinkException, InstrumentException, InterruptedException {
        load.input(false);
        return true;
    }

    /** A meter shows what was, for a while. */
    private void settle() {
        try {
            rig.clock().sleepNs(METER_NS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** What a load draws, by its own meter, A; empty if it cannot be asked. */
    private OptionalDouble drawnA(ElectronicLoad load) {
        double[] seenA = new double[1];
        boolean asked = attempt(load.name(), () -> {
            seenA[0] = load.measure().currentA();
            return true;
        });
        return asked ? OptionalDouble.of(seenA[0]) : OptionalDouble.empty();
    }

    private double offLimitA(ElectronicLoad load) {
        return rig.positions().stream()
                .filter(position -> position.load() == load)
                .mapToDouble(Plausibility::offLimitA)
                .max()
                .orElse(0);
    }

    /** Whether there is mains at the unit's inlet, by measurement: contacts weld, and sources lie. */
    private boolean mainsThere() {
        double[] seenV = new double[1];
        attempt(rig.board().name(), () -> {
            seenV[0] = BoardSight.mainsV(rig);
            return true;
        });
        // a line that only a hand can switch has no open contact through which a little could come
        boolean there = seenV[0] > (line.switchesItself() ? MAINS_LIMIT_V : HAND_SWITCHED_LIMIT_V);
        if (there) {
            remark(String.format(Locale.ROOT, "%.0f V at the unit's inlet with everything commanded off", seenV[0]));
        }
        return there;
    }

    private boolean boardSafe() throws LinkException, InstrumentException, InterruptedException {
        BoardStatus status = rig.board().safeState();
        boolean off = status.relays() == 0
                && !status.loadEnabled()
                && (status.state() == BoardState.SAFE || status.state() == BoardState.TRIPPED);
        if (!off) {
            throw new InstrumentException(rig.board().name(), "SAFE_STATE", "all outputs off", "still on: " + status);
        }
        return true;
    }

    /**
     * Sends OFF to every device past everything. Any thread; never throws.
     *
     * @return whether the host's ports took all of it
     */
    boolean emergencyOff() {
        boolean all = true;
        for (ElectronicLoad load : rig.loads()) {
            all &= load.emergencyOff();
        }
        all &= line.emergencyOff();
        all &= rig.board().emergencySafe();
        return all;
    }

    /** What did not go as it should while making safe, in order. */
    List<String> remarks() {
        return List.copyOf(remarks);
    }

    @SuppressWarnings("IllegalCatch") // rung 1 must go on to the next device whatever a driver does
    private boolean attempt(String what, BenchTalk.Question<Boolean> step) {
        try {
            return step.ask();
        } catch (InterruptedException e) {
            remarks.add(what + ": interrupted while making safe");
            return false;
        } catch (LinkException | InstrumentException | RuntimeException e) {
            remark(what + ": " + e.getMessage());
            return false;
        }
    }

    private void remark(String remark) {
        if (!remarks.contains(remark)) {
            remarks.add(remark);
        }
    }
}

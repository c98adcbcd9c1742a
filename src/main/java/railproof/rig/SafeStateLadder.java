package railproof.rig;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import railproof.instrument.BoardState;
import railproof.instrument.BoardStatus;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.InstrumentException;
import railproof.run.SafeState;
import railproof.wire.LinkException;

/**
 * Makes the bench safe: load inputs off, load contactor open, line off; each read back. Never throws; says how sure it
 * is. The order matters: the load lets go of the current before any contact opens.
 *
 * <p>Thread: control thread, except {@link #emergencyOff}, which may come from any.
 */
public final class SafeStateLadder {
    private static final int TRIES = 3;
    private static final long BUDGET_NS = 1_000_000_000L;

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
        Set<String> loadsNotOff = new HashSet<>();
        rig.loads().forEach(load -> loadsNotOff.add(load.name()));
        boolean boardSafe = false;
        boolean lineOff = false;
        long startNs = rig.clock().nowNs();
        for (int i = 0; i < TRIES && (i == 0 || rig.clock().nowNs() - startNs < BUDGET_NS); i++) {
            for (ElectronicLoad load : rig.loads()) {
                if (loadsNotOff.contains(load.name()) && attempt(load.name(), () -> switchOff(load))) {
                    loadsNotOff.remove(load.name());
                }
            }
            lineOff = lineOff || attempt("line", line::makeSafe);
            boardSafe = boardSafe || attempt(rig.board().name(), this::boardSafe);
            if (loadsNotOff.isEmpty() && boardSafe && lineSafe(lineOff, boardSafe)) {
                break;
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
        return sureness(loadsNotOff.isEmpty(), boardSafe, lineOff);
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
            String remark = what + ": " + e.getMessage();
            if (!remarks.contains(remark)) {
                remarks.add(remark);
            }
            return false;
        }
    }
}

package railproof.rig;

import java.time.Duration;
import java.util.Locale;
import railproof.run.RunOutcome;

/**
 * Mains from a variac turned by hand: says what to turn, watches the measured line, and goes on by itself when it is
 * there and steady. The board's line relay switches it if the rig has one. A fixed line is the same without the hand:
 * the line is taken as it is, and measured.
 */
final class HandTurnedLine implements LineFeed {
    private static final int STEADY_LOOKS = 3;
    private static final Duration BETWEEN_LOOKS = Duration.ofMillis(300);
    private static final int SAY_AGAIN_LOOKS = 10;
    /** This near, a small turn does it. */
    private static final double NEAR_RATIO = 0.06;

    private final Rig.Wiring wiring;
    private final Duration patience;
    private final boolean relayBehindIt;

    /** As the rig is wired. */
    HandTurnedLine(Rig.Wiring wiring) {
        this.wiring = wiring;
        this.patience = wiring.patience();
        this.relayBehindIt = wiring.lineRelayMask() != 0;
    }

    @Override
    public void on(LineAccess bench, double rmsV, double frequencyHz) throws RunEndException {
        bench.lineRelay(true);
        if (!wiring.handTurned()) {
            bench.pause(wiring.lineSettle());
            return;
        }
        double lineV = bench.measureLineV();
        int steady = 0;
        String said = "";
        int since = 0;
        long looks = patience.dividedBy(BETWEEN_LOOKS);
        for (long i = 0; i < looks && steady < STEADY_LOOKS; i++) {
            String wanted = whatToDo(lineV, rmsV);
            steady = wanted.isEmpty() ? steady + 1 : 0;
            // said once, and again when something else is to be done or it takes long
            if (!wanted.isEmpty() && (!wanted.equals(said) || since >= SAY_AGAIN_LOOKS)) {
                bench.show(String.format(Locale.ROOT, "Line: %s (now %.1f V). ", wanted, lineV)
                        + "The test goes on by itself when it is steady there.");
                since = 0;
            }
            said = wanted;
            since++;
            bench.pause(BETWEEN_LOOKS);
            lineV = bench.measureLineV();
        }
        bench.withdraw();
        if (steady < STEADY_LOOKS) {
            throw new RunEndException(
                    RunOutcome.End.STOPPED,
                    String.format(
                            Locale.ROOT,
                            "nobody brought the line to %.0f V within %d s (last seen %.1f V)",
                            rmsV,
                            patience.toSeconds(),
                            lineV));
        }
    }

    /** What the hand is to do; empty if the line is where it should be. */
    private String whatToDo(double lineV, double rmsV) {
        double offV = lineV - rmsV;
        if (Math.abs(offV) <= wiring.lineBandRatio() * rmsV) {
            return "";
        }
        boolean near = Math.abs(offV) <= NEAR_RATIO * rmsV;
        String way = near ? (offV > 0 ? "a little lower, to" : "a little higher, to") : turn(offV);
        return String.format(Locale.ROOT, "%s %.1f V", way, rmsV);
    }

    private static String turn(double offV) {
        return "turn the variac " + (offV > 0 ? "down" : "up") + " to";
    }

    @Override
    public void off(LineAccess bench) throws RunEndException {
        if (relayBehindIt) {
            bench.lineRelay(false);
            return;
        }
        bench.show("Line: switch the unit's mains off.");
        long looks = patience.dividedBy(BETWEEN_LOOKS);
        for (long i = 0; i < looks; i++) {
            if (bench.measureLineV() < 5) {
                bench.withdraw();
                return;
            }
            bench.pause(BETWEEN_LOOKS);
        }
        throw new RunEndException(RunOutcome.End.STOPPED, "nobody switched the mains off");
    }

    @Override
    public boolean makeSafe() {
        // the board's safe state releases the relay; a variac has nothing else to command
        return false;
    }

    @Override
    public boolean switchesItself() {
        return relayBehindIt;
    }

    @Override
    public boolean emergencyOff() {
        return true;
    }
}

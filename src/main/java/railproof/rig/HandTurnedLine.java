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
        long looks = patience.dividedBy(BETWEEN_LOOKS);
        for (long i = 0; i < looks && steady < STEADY_LOOKS; i++) {
            if (Math.abs(lineV - rmsV) <= wiring.lineBandRatio() * rmsV) {
                steady++;
            } else {
                steady = 0;
                bench.show(String.format(
                        Locale.ROOT,
                        "Line: turn the variac %s to %.1f V (now about %.0f V). The test goes on by itself when it is steady.",
                        lineV < rmsV ? "up" : "down",
                        rmsV,
                        lineV));
            }
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

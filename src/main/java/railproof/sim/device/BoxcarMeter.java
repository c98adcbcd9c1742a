package railproof.sim.device;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Mean of voltage and current over the last 20 ms, one cycle of 50 Hz mains: what the slow converter of a load shows. A
 * value seen is taken to have lasted since the look before. Thread: confined.
 */
final class BoxcarMeter {
    private static final double WINDOW_S = 0.02;
    private static final double SPACING_S = WINDOW_S / 200;

    /** Integrals from the start up to a moment. */
    private record Mark(double timeS, double voltS, double ampereS) {}

    private final Deque<Mark> marks = new ArrayDeque<>();
    private Mark now = new Mark(0, 0, 0);
    private double lastV;
    private double lastA;

    BoxcarMeter() {
        marks.add(now);
    }

    void see(double durationS, double voltageV, double currentA) {
        lastV = voltageV;
        lastA = currentA;
        now = new Mark(
                now.timeS() + durationS, now.voltS() + voltageV * durationS, now.ampereS() + currentA * durationS);
        if (now.timeS() - marks.getLast().timeS() >= SPACING_S) {
            marks.addLast(now);
        }
        while (marks.size() > 1 && second().timeS() <= now.timeS() - WINDOW_S) {
            marks.removeFirst();
        }
    }

    private Mark second() {
        var order = marks.iterator();
        order.next();
        return order.next();
    }

    double meanV() {
        Mark from = from();
        double spanS = now.timeS() - from.timeS();
        return spanS > 0 ? (now.voltS() - from.voltS()) / spanS : lastV;
    }

    double meanA() {
        Mark from = from();
        double spanS = now.timeS() - from.timeS();
        return spanS > 0 ? (now.ampereS() - from.ampereS()) / spanS : lastA;
    }

    /** The window's start, between the first two marks. */
    private Mark from() {
        Mark first = marks.getFirst();
        double startS = now.timeS() - WINDOW_S;
        if (first.timeS() >= startS) {
            return first;
        }
        Mark then = marks.size() > 1 ? second() : now;
        double part = (startS - first.timeS()) / (then.timeS() - first.timeS());
        return new Mark(
                startS,
                first.voltS() + part * (then.voltS() - first.voltS()),
                first.ampereS() + part * (then.ampereS() - first.ampereS()));
    }
}

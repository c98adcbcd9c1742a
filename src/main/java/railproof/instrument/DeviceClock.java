package railproof.instrument;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Maps the device's ticks to the host's clock: a straight line through the readings, those with a short round trip counting
 * most, with a bound on its error. Readings are kept for a while and the oldest are forgotten. One thread.
 */
public final class DeviceClock {
    private static final int KEPT = 64;

    /**
     * Two crystals differ by so much at most: 100 parts per million each over temperature and age; common practice for
     * microcontroller boards and computers, no source.
     */
    private static final double DRIFT_RATIO = 200e-6;

    /** A line through readings closer together says more about the link than about the clocks. */
    private static final double SHORTEST_SPAN_S = 1;

    /**
     * An instant of the host's clock.
     *
     * @param hostNs best estimate, ns
     * @param boundNs it is not further from the truth than this, ns
     */
    public record Instant(long hostNs, long boundNs) {}

    private final Deque<ClockReading> readings = new ArrayDeque<>();
    private final long tickHz;

    /**
     * A clock without readings.
     *
     * @param tickHz nominal rate of the device clock, ticks per second
     */
    public DeviceClock(long tickHz) {
        if (tickHz <= 0) {
            throw new IllegalArgumentException("tick rate must be positive, got " + tickHz);
        }
        this.tickHz = tickHz;
    }

    /** Takes a reading. A device clock that went back is another start of the device: what was known is forgotten. */
    public void add(ClockReading reading) {
        if (!readings.isEmpty() && reading.rxTicks() < readings.getLast().rxTicks()) {
            readings.clear();
        }
        if (readings.size() == KEPT) {
            readings.removeFirst();
        }
        readings.addLast(reading);
    }

    /** How many readings count now. */
    public int readings() {
        return readings.size();
    }

    /** How much longer than nominal a tick lasts by the host's clock, as a ratio; 0 as long as too little is known. */
    public double driftRatio() {
        return readings.isEmpty() ? 0 : line().hostPerDeviceRatio - 1;
    }

    /**
     * The host's time at a tick.
     *
     * @throws IllegalStateException without readings
     */
    public Instant at(long ticks) {
        if (readings.isEmpty()) {
            throw new IllegalStateException("the device clock was never read");
        }
        Line line = line();
        double deviceS = (ticks - line.originTicks) / (double) tickHz;
        // all times from here on are counted from the first reading, so that no digits are lost
        double estimateNs = (line.hostS + (deviceS - line.deviceS) * line.hostPerDeviceRatio) * 1e9;
        double earliestNs = Double.NEGATIVE_INFINITY;
        double latestNs = Double.POSITIVE_INFINITY;
        for (ClockReading reading : readings) {
            double awayNs = (ticks - reading.ticks()) * nsPerTick();
            double seenNs = reading.hostNs() - line.originNs + awayNs;
            double reachNs = reading.boundNs(nsPerTick()) + Math.abs(awayNs) * DRIFT_RATIO;
            earliestNs = Math.max(earliestNs, seenNs - reachNs);
            latestNs = Math.min(latestNs, seenNs + reachNs);
        }
        if (earliestNs > latestNs) {
            // clocks that run apart faster than any crystal, or a clock that was set: only the spread is honest
            double spreadNs = earliestNs - latestNs;
            return line.instant(estimateNs, spreadNs + Math.abs(estimateNs - earliestNs));
        }
        double withinNs = Math.min(latestNs, Math.max(earliestNs, estimateNs));
        double boundNs = Math.max(latestNs - withinNs, withinNs - earliestNs);
        return line.instant(withinNs, boundNs);
    }

    private double nsPerTick() {
        return 1e9 / tickHz;
    }

    /**
     * Host time over device time, both counted from a first reading.
     *
     * @param deviceS weighted mean of the device times, s
     * @param hostS weighted mean of the host times, s
     * @param hostPerDeviceRatio slope
     */
    private record Line(long originTicks, long originNs, double deviceS, double hostS, double hostPerDeviceRatio) {
        Instant instant(double fromOriginNs, double boundNs) {
            return new Instant(originNs + Math.round(fromOriginNs), (long) Math.ceil(boundNs));
        }
    }

    /** Weighted least squares about the weighted centre. */
    private Line line() {
        ClockReading origin = readings.getFirst();
        double weights = 0;
        double deviceSum = 0;
        double hostSum = 0;
        for (ClockReading reading : readings) {
            double weight = weight(reading);
            weights += weight;
            deviceSum += weight * deviceS(reading, origin);
            hostSum += weight * hostS(reading, origin);
        }
        double deviceS = deviceSum / weights;
        double hostS = hostSum / weights;
        double products = 0;
        double squares = 0;
        for (ClockReading reading : readings) {
            double weight = weight(reading);
            double awayS = deviceS(reading, origin) - deviceS;
            products += weight * awayS * (hostS(reading, origin) - hostS);
            squares += weight * awayS * awayS;
        }
        double slopeRatio = hostS(readings.getLast(), origin) < SHORTEST_SPAN_S ? 1 : products / squares;
        return new Line(origin.rxTicks(), origin.sentNs(), deviceS, hostS, slopeRatio);
    }

    private double deviceS(ClockReading reading, ClockReading origin) {
        return (reading.ticks() - origin.rxTicks()) / tickHz;
    }

    private static double hostS(ClockReading reading, ClockReading origin) {
        return (reading.hostNs() - origin.sentNs()) * 1e-9;
    }

    private double weight(ClockReading reading) {
        double boundNs = reading.boundNs(nsPerTick()) + nsPerTick();
        return 1 / (boundNs * boundNs);
    }
}

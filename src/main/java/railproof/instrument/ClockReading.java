package railproof.instrument;

/**
 * One reading of the device clock, with the host's clock around it.
 *
 * @param sentNs host clock before the request went out, ns
 * @param receivedNs host clock after the answer had come, ns
 * @param rxTicks device clock when the request had arrived
 * @param txTicks device clock when the answer was made
 */
public record ClockReading(long sentNs, long receivedNs, long rxTicks, long txTicks) {
    public ClockReading {
        if (receivedNs < sentNs || txTicks < rxTicks) {
            throw new IllegalArgumentException("time went back: host " + sentNs + " to " + receivedNs + " ns, device "
                    + rxTicks + " to " + txTicks + " ticks");
        }
    }

    /** Host time half-way between sending and receiving, ns. */
    double hostNs() {
        return sentNs + (receivedNs - sentNs) / 2.0;
    }

    /** Device time half-way between arrival and answer, ticks. */
    double ticks() {
        return rxTicks + (txTicks - rxTicks) / 2.0;
    }

    /**
     * How far {@link #hostNs()} can be from the host's time at {@link #ticks()}, ns: half of what the round trip took on
     * the link, if one way took all of it (Cristian, "Probabilistic clock synchronization", Distributed Computing 3, 1989).
     */
    double boundNs(double nsPerTick) {
        return Math.max(0, receivedNs - sentNs - (txTicks - rxTicks) * nsPerTick) / 2;
    }
}

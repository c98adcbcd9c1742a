package railproof.wire;

/** No usable reply came in time, after all tries. */
public final class LinkTimeoutException extends LinkException {
    /**
     * States the exchange.
     *
     * @param request what was asked, in words
     * @param elapsedMs how long was waited in all, ms
     * @param attempts how often it was asked
     */
    public LinkTimeoutException(String linkName, String request, long elapsedMs, int attempts) {
        super(linkName, "no usable reply to " + request + " in " + elapsedMs + " ms (" + attempts + " tries)");
    }
}

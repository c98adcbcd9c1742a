package railproof.sim;

import railproof.wire.Link;

/** What goes wrong on a cable. An exchange is one write and everything read until the next write. */
public sealed interface LinkEffect {
    /** The exchange goes through untouched. */
    record None() implements LinkEffect {}

    /** The device never hears the write; nothing comes back. */
    record Silence() implements LinkEffect {}

    /** The device hears the write and acts; what it answers is lost. */
    record LostReply() implements LinkEffect {}

    /**
     * The answer comes back as random bytes of the same length.
     *
     * @param seed of the random bytes
     */
    record Garbage(long seed) implements LinkEffect {}

    /**
     * The port takes only the first bytes, then fails for good.
     *
     * @param bytes how many are taken; zero or more
     */
    record ShortWrite(int bytes) implements LinkEffect {}

    /** The port is gone from this write on, for good, for emergency writes too. */
    record Gone() implements LinkEffect {}

    /**
     * Only the beginning of the answer comes back.
     *
     * @param bytes how many bytes come back; zero or more
     */
    record Truncate(int bytes) implements LinkEffect {}

    /** The answer comes back twice. */
    record Duplicate() implements LinkEffect {}

    /** The answer comes after that of the next exchange. */
    record Reorder() implements LinkEffect {}

    /**
     * Nothing passes for a time, either way; then everything does, in order.
     *
     * @param lastsNs how long, ns of the link's clock; greater than zero
     */
    record Stall(long lastsNs) implements LinkEffect {}

    /**
     * The port leads to another device from this write on, for good.
     *
     * @param other the cable to it
     */
    record Elsewhere(Link other) implements LinkEffect {}

    /**
     * The answer comes late.
     *
     * @param delayNs how much later, ns of the link's clock; greater than zero
     */
    record Delay(long delayNs) implements LinkEffect {}
}

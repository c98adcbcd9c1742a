package railproof.wire;

/** The port is gone, closed, or took only part of the bytes: nothing more can be expected from this link. */
public final class LinkDownException extends LinkException {
    /** States what showed it. */
    public LinkDownException(String linkName, String trouble) {
        super(linkName, trouble);
    }

    /** States what showed it and what the system said. */
    public LinkDownException(String linkName, String trouble, Throwable cause) {
        super(linkName, trouble, cause);
    }
}

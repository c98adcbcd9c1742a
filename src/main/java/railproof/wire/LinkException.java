package railproof.wire;

import java.io.IOException;

/** Trouble on a link. Carries the link's name in its message. */
public class LinkException extends IOException {
    /** States the trouble. */
    public LinkException(String linkName, String trouble) {
        super("link " + linkName + ": " + trouble);
    }

    /** States the trouble and what the system said. */
    public LinkException(String linkName, String trouble, Throwable cause) {
        super("link " + linkName + ": " + trouble, cause);
    }
}

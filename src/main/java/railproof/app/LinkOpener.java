package railproof.app;

import railproof.base.Clock;
import railproof.rig.file.LinkConfig;
import railproof.wire.Link;
import railproof.wire.LinkException;

/** Opens the link a rig file describes. Tests and the simulated bench put their own in place. */
@FunctionalInterface
public interface LinkOpener {
    /**
     * Opens.
     *
     * @param link what the rig file says
     * @param clock the clock its waits are counted in
     */
    Link open(LinkConfig link, Clock clock) throws LinkException;
}

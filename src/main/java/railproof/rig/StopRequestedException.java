package railproof.rig;

import railproof.wire.LinkException;

/**
 * An exchange was given up because the run is to end. A link exception, so that drivers let it pass untouched like any
 * other; the rig recognises it.
 */
final class StopRequestedException extends LinkException {
    private final transient StopSignal.Cause cause;

    StopRequestedException(String linkName, StopSignal.Cause cause) {
        super(linkName, "exchange given up: " + cause.words());
        this.cause = cause;
    }

    StopSignal.Cause stopCause() {
        return cause;
    }
}

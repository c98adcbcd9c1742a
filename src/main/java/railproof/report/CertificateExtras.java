package railproof.report;

import java.util.Optional;
import railproof.judge.SignOff;
import railproof.run.RunData;

/**
 * What a certificate shows beside the run itself.
 *
 * @param signOff who signed it off, if somebody has
 * @param before the unit's run before the repair, drawn beside the curves
 * @param recordSha256 digest of what was measured and judged, the one the seal signs; empty if it is not known
 */
public record CertificateExtras(Optional<SignOff> signOff, Optional<RunData> before, String recordSha256) {
    /** Nothing but the run. */
    public static final CertificateExtras NONE = new CertificateExtras(Optional.empty(), Optional.empty(), "");
}

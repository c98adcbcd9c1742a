package railproof.seal;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What one seal says.
 *
 * @param number 1 for the first seal of a run
 * @param runId the run
 * @param unitSerial serial number of the unit
 * @param sealedAt wall time
 * @param before the newest seal of the unit's run before; empty if there was none
 * @param recordDigest one digest for all that was measured and judged, the one a certificate prints
 * @param entries every file of the folder, in order of name
 * @param publicKey the signer's public key, 32 bytes as RFC 8032 has them, in lower-case hex
 */
public record Seal(
        int number,
        String runId,
        String unitSerial,
        Instant sealedAt,
        Optional<Link> before,
        String recordDigest,
        List<Entry> entries,
        String publicKey) {
    public Seal {
        entries = List.copyOf(entries);
    }

    /**
     * Another run's seal.
     *
     * @param runId that run
     * @param file the seal's file name
     * @param sha256 digest of that file
     */
    public record Link(String runId, String file, String sha256) {}

    /**
     * One file.
     *
     * @param name path below the run's folder, with slashes
     * @param bytes its length
     * @param sha256 its digest, lower-case hex
     */
    public record Entry(String name, long bytes, String sha256) {}

    /** The entry of that name. */
    public Optional<Entry> entry(String name) {
        return entries.stream().filter(entry -> entry.name().equals(name)).findFirst();
    }
}

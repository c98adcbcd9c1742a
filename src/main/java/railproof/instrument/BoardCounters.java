package railproof.instrument;

/**
 * What the board counted on its end of the link since its reset, each modulo 2^32.
 *
 * @param rxFrames good frames taken
 * @param txFrames frames sent
 * @param crcErrors blocks dropped for their checksum
 * @param cobsErrors blocks dropped for their byte stuffing
 * @param overlong blocks dropped for their length
 * @param malformed blocks dropped for anything else
 * @param repeats requests answered again from memory
 * @param lostEvents events that found no room on the link
 */
public record BoardCounters(
        long rxFrames,
        long txFrames,
        long crcErrors,
        long cobsErrors,
        long overlong,
        long malformed,
        long repeats,
        long lostEvents) {
    /** Whether nothing was dropped and nothing lost. */
    public boolean clean() {
        return crcErrors + cobsErrors + overlong + malformed + lostEvents == 0;
    }
}

package railproof.rig.file;

import java.time.Duration;
import java.util.Optional;
import railproof.wire.ScpiSettings;

/**
 * Where the mains of the unit comes from.
 *
 * @param feed who sets it
 * @param channel the board's channel that measures it, instantaneous volts; empty if it is not measured
 * @param minV lowest line that can be given, V root mean square
 * @param maxV highest line, V root mean square
 * @param minFrequencyHz lowest frequency, Hz
 * @param maxFrequencyHz highest frequency, Hz
 * @param settle wait after a change before a reading can be trusted
 */
public record LineConfig(
        Feed feed,
        Optional<ChannelConfig> channel,
        double minV,
        double maxV,
        double minFrequencyHz,
        double maxFrequencyHz,
        Duration settle) {
    /** Who sets the line. */
    public sealed interface Feed {}

    /**
     * A programmable a.c. source.
     *
     * @param link name of its link
     * @param scpi how its text lines travel
     */
    public record Programmable(String link, ScpiSettings scpi) implements Feed {}

    /**
     * A hand-turned variable transformer: the operator is asked, the channel checks.
     *
     * @param bandRatio how near the asked voltage is near enough, a ratio of it
     */
    public record Operator(double bandRatio) implements Feed {}

    /** The mains as it comes: no line sweep. */
    public record Fixed() implements Feed {}
}

package railproof.wire;

import java.time.Duration;
import java.util.List;

/**
 * How SCPI text travels on one link: what differs between devices that all follow the standard. Comes from the rig
 * file's dialect table.
 *
 * @param terminatorOut end of a line sent: {@code "\n"}, {@code "\r\n"} or {@code "\r"}
 * @param commandGap least time between two lines sent
 * @param replyTimeout longest wait for a reply
 * @param maxLineLength longest line the device takes, characters; 16 to 4096
 * @param echo whether the device echoes each line it is sent
 * @param errorQuery the error-queue query ({@code SYST:ERR?}), empty if the device has none
 * @param ignoredErrors error numbers that mean nothing on this device
 * @param operationComplete whether {@code *OPC?} is understood
 * @param identityPattern regular expression that the reply to {@code *IDN?} must match, empty for any
 */
public record ScpiSettings(
        String terminatorOut,
        Duration commandGap,
        Duration replyTimeout,
        int maxLineLength,
        boolean echo,
        String errorQuery,
        List<Integer> ignoredErrors,
        boolean operationComplete,
        String identityPattern) {
    /** The strict standard: LF, no gap, error queue read by {@code :SYST:ERR?}. */
    public static final ScpiSettings STANDARD = new ScpiSettings(
            "\n", Duration.ZERO, Duration.ofMillis(500), 255, false, ":SYST:ERR?", List.of(), true, "");

    public ScpiSettings {
        ignoredErrors = List.copyOf(ignoredErrors);
    }
}

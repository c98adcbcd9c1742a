package railproof.rig.file;

import railproof.instrument.LoadDialect;

/**
 * One electronic load.
 *
 * @param name its name in the rig file
 * @param link name of its link
 * @param dialect how it wants to be spoken to
 * @param maxCurrentA largest current, A
 * @param maxVoltageV largest voltage at its terminals, V
 * @param maxPowerW largest power, W
 * @param minOperatingV voltage below which it cannot draw its full current, V
 * @param currentResolutionA smallest step of a current setting and reading, A
 * @param currentGainURatio standard uncertainty of the current, the part that grows with it, a ratio
 * @param currentOffsetUA standard uncertainty of the current, the constant part, A
 */
public record LoadConfig(
        String name,
        String link,
        LoadDialect dialect,
        double maxCurrentA,
        double maxVoltageV,
        double maxPowerW,
        double minOperatingV,
        double currentResolutionA,
        double currentGainURatio,
        double currentOffsetUA) {}

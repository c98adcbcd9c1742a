package railproof.instrument;

/**
 * Who an instrument says it is.
 *
 * @param model maker and model in its own words
 * @param serial serial number in its own words, {@code "0"} if it has none
 * @param firmware firmware version or build
 * @param simulated whether it declares itself a simulation; marks everything recorded with it
 */
public record Identity(String model, String serial, String firmware, boolean simulated) {}

package railproof.profile;

import java.util.Optional;

/**
 * What one rail must keep to. An absent limit is not judged.
 *
 * @param outputV allowed output voltage at every point of the sweeps, V, signed as the rail
 * @param loadRegulation no load to full load, line nominal
 * @param lineRegulation low line to high line
 * @param ripplePpMaxV largest ripple, peak to peak, V
 * @param rippleRmsMaxV largest ripple, root mean square, V
 * @param currentLimitA where the limit must set in, A
 * @param shortCircuitA current into a short, A
 * @param dynamic what it must keep to when something changes
 */
public record RailLimits(
        Band outputV,
        Optional<RegulationLimit> loadRegulation,
        Optional<RegulationLimit> lineRegulation,
        Optional<Double> ripplePpMaxV,
        Optional<Double> rippleRmsMaxV,
        Optional<Band> currentLimitA,
        Optional<Band> shortCircuitA,
        DynamicLimits dynamic) {}

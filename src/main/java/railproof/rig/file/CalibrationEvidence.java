package railproof.rig.file;

import java.util.List;
import java.util.Optional;

/**
 * What was seen when a channel was calibrated, in the channel's unit.
 *
 * @param nominal what the channel read at each level on its nominal scale
 * @param reference what the reference meter read
 * @param zeroDimensionless what the corrected channel read with its leads shorted; empty if not checked
 * @param leadDrop what was seen with current in the load leads; empty if not checked
 */
public record CalibrationEvidence(
        List<Double> nominal, List<Double> reference, Optional<Double> zeroDimensionless, Optional<LeadDrop> leadDrop) {
    /**
     * The channel on the terminals of a loaded supply.
     *
     * @param dropDimensionless corrected channel less reference
     * @param currentA current in the load leads, A
     */
    public record LeadDrop(double dropDimensionless, double currentA) {
        public LeadDrop {
            if (!(currentA > 0) || !Double.isFinite(currentA)) {
                throw new IllegalArgumentException(
                        "the current of the lead-drop check must be above 0 A, got " + currentA);
            }
        }
    }

    public CalibrationEvidence {
        nominal = List.copyOf(nominal);
        reference = List.copyOf(reference);
        if (nominal.size() != reference.size()) {
            throw new IllegalArgumentException(nominal.size() + " levels, " + reference.size() + " reference readings");
        }
    }
}

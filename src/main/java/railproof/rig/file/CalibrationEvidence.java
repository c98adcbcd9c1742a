package railproof.rig.file;

import java.util.List;
import java.util.Optional;

/**
 * What was seen when a channel was calibrated, in the channel's unit.
 *
 * @param nominal what the channel read at each level on its nominal scale
 * @param reference what the reference meter read
 * @param zeroDimensionless what the corrected channel read with its leads shorted; empty if not checked
 * @param leadDropDimensionless corrected channel less reference with current in the load leads; empty if not checked
 */
public record CalibrationEvidence(
        List<Double> nominal,
        List<Double> reference,
        Optional<Double> zeroDimensionless,
        Optional<Double> leadDropDimensionless) {
    public CalibrationEvidence {
        nominal = List.copyOf(nominal);
        reference = List.copyOf(reference);
        if (nominal.size() != reference.size()) {
            throw new IllegalArgumentException(nominal.size() + " levels, " + reference.size() + " reference readings");
        }
    }
}

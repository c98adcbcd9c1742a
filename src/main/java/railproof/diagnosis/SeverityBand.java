package railproof.diagnosis;

/**
 * What units with one fault in one band of severity look like, in the space of comparison.
 *
 * <p>The arrays are handed over, not copied; nobody writes to them.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
final class SeverityBand {
    /** {@link PartFault#ordinal()}, or −1 for a sound unit. */
    final int fault;

    final double[] mean;
    /** Covariance by tolerances, severity and what the model is not sure of; symmetric. */
    final double[][] covariance;

    SeverityBand(int fault, double[] mean, double[][] covariance) {
        this.fault = fault;
        this.mean = mean;
        this.covariance = covariance;
    }
}

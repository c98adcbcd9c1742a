package railproof.archive;

/**
 * A share of a count, with the interval that holds the true share with a confidence of 95 % (Wilson's score interval,
 * Wilson 1927; NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1).
 *
 * @param part how many
 * @param whole of how many; at least 1
 * @param shareRatio part of whole
 * @param lowRatio lower end of the interval
 * @param highRatio upper end of the interval
 */
public record Proportion(int part, int whole, double shareRatio, double lowRatio, double highRatio) {
    /** Two-sided 95 % of the normal distribution. */
    private static final double Z = 1.959963984540054;

    /** The share. */
    public static Proportion of(int part, int whole) {
        if (part < 0 || whole < 1 || part > whole) {
            throw new IllegalArgumentException("no share: " + part + " of " + whole);
        }
        double n = whole;
        double share = part / n;
        double middle = (share + Z * Z / (2 * n)) / (1 + Z * Z / n);
        double half = Z / (1 + Z * Z / n) * Math.sqrt(share * (1 - share) / n + Z * Z / (4 * n * n));
        return new Proportion(part, whole, share, Math.max(0, middle - half), Math.min(1, middle + half));
    }
}

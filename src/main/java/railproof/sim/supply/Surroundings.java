package railproof.sim.supply;

/**
 * What the unit stands in.
 *
 * @param ambientC air temperature, °C; -20 to 85, which includes a burn-in chamber
 * @param thirdHarmonicRatio third harmonic of the mains against its fundamental; a positive value flattens the crest
 * @param fifthHarmonicRatio fifth harmonic; a negative value flattens the crest further
 * @param seed seed of everything random inside the unit
 */
public record Surroundings(double ambientC, double thirdHarmonicRatio, double fifthHarmonicRatio, long seed) {
    /** Checks the ranges. */
    public Surroundings {
        Require.within("ambientC", ambientC, -20, 85);
        Require.within("thirdHarmonicRatio", thirdHarmonicRatio, -0.3, 0.3);
        Require.within("fifthHarmonicRatio", fifthHarmonicRatio, -0.3, 0.3);
    }

    /** 25 °C, a pure sine. */
    public static Surroundings standard(long seed) {
        return new Surroundings(25, 0, 0, seed);
    }
}

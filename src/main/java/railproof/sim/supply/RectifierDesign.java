package railproof.sim.supply;

/**
 * Secondary winding and rectifier of one rail.
 *
 * @param kind how the diodes are arranged
 * @param secondaryV open-circuit rms voltage of the winding (of each half, for a centre tap) at nominal line, V; for
 *     {@link Kind#DIRECT} the direct voltage of the bench source
 * @param windingOhm resistance of the winding (of each half) with its leads, Ω
 * @param mismatchRatio how much lower the second half of a centre-tapped winding is; 0.01 is one percent
 * @param diode the rectifier diode
 */
record RectifierDesign(Kind kind, double secondaryV, double windingOhm, double mismatchRatio, DiodeModel diode) {
    RectifierDesign {
        Require.positive("secondaryV", secondaryV);
        Require.positive("windingOhm", windingOhm);
        Require.within("mismatchRatio", mismatchRatio, 0, 0.5);
    }

    static RectifierDesign bridge(double secondaryV, double windingOhm, DiodeModel diode) {
        return new RectifierDesign(Kind.BRIDGE, secondaryV, windingOhm, 0, diode);
    }

    static RectifierDesign centreTap(double secondaryV, double windingOhm, DiodeModel diode) {
        return new RectifierDesign(Kind.CENTRE_TAP, secondaryV, windingOhm, 0, diode);
    }

    static RectifierDesign halfWave(double secondaryV, double windingOhm, DiodeModel diode) {
        return new RectifierDesign(Kind.HALF_WAVE, secondaryV, windingOhm, 0, diode);
    }

    /** Arrangement of the diodes. */
    enum Kind {
        /** Four diodes on one winding. */
        BRIDGE,
        /** Two diodes on a centre-tapped winding. */
        CENTRE_TAP,
        /** One diode. */
        HALF_WAVE,
        /** No rectifier: the regulator board alone on a direct-voltage source that follows the line setting. */
        DIRECT
    }
}

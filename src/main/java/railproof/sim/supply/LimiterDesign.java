package railproof.sim.supply;

/** How the rail limits its current. What limits senses the drop across a resistor between pass emitter and output. */
sealed interface LimiterDesign {
    /** Current-sense resistor, Ω. */
    double senseOhm();

    /**
     * Constant current: a transistor steals base drive when the sense drop reaches its base-emitter voltage.
     *
     * @param senseOhm sense resistor, Ω
     * @param baseOhm resistor in the transistor's base lead, Ω
     */
    record ConstantCurrent(double senseOhm, double baseOhm) implements LimiterDesign {
        public ConstantCurrent {
            Require.positive("senseOhm", senseOhm);
            Require.positive("baseOhm", baseOhm);
        }
    }

    /**
     * Foldback: as constant current, but a divider from the pass emitter to common takes back part of the output
     * voltage from the sense drop. With k = lower / (upper + lower): I = (Vbe + Vout (1 - k)) / (k sense).
     *
     * @param senseOhm sense resistor, Ω
     * @param upperOhm divider, pass emitter to sense base, Ω
     * @param lowerOhm divider, sense base to common, Ω
     */
    record Foldback(double senseOhm, double upperOhm, double lowerOhm) implements LimiterDesign {
        public Foldback {
            Require.positive("senseOhm", senseOhm);
            Require.positive("upperOhm", upperOhm);
            Require.positive("lowerOhm", lowerOhm);
        }
    }

    /**
     * Latching trip: the sense drop fires a two-transistor thyristor that shunts the base drive until the input is
     * taken away.
     *
     * @param senseOhm sense resistor, Ω
     * @param baseOhm resistor in the sensing transistor's base lead, Ω
     * @param gateF capacitor across the thyristor's gate, F
     */
    record Latching(double senseOhm, double baseOhm, double gateF) implements LimiterDesign {
        public Latching {
            Require.positive("senseOhm", senseOhm);
            Require.positive("baseOhm", baseOhm);
            Require.positive("gateF", gateF);
        }
    }

    /**
     * No limit but what base feed and gain allow. The fuse in the output is a resistor here: it never blows.
     *
     * @param senseOhm resistance of the fuse, Ω
     */
    record None(double senseOhm) implements LimiterDesign {
        public None {
            Require.positive("senseOhm", senseOhm);
        }
    }
}

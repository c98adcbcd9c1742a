package railproof.sim.supply;

/** How far the rectifiers of a unit are in their half cycle. */
enum Charging {
    /** None conducts, nor will before the winding is above its reservoir. */
    AT_REST,
    /** The winding is high enough, but nothing flows yet, or nothing will. */
    DUE,
    /** A reservoir is being charged. */
    UNDER_WAY
}

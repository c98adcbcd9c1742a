package railproof.run;

/**
 * What was asked for at a point.
 *
 * @param mode what the load was told to hold: {@code off}, {@code CC}, {@code CV} or {@code CR}
 * @param levelDimensionless the level asked for, A, V or Ω by mode; 0 for off
 * @param lineV line voltage asked for, V r.m.s.
 */
public record Setpoint(String mode, double levelDimensionless, double lineV) {
    /** Mode of a load whose input is off. */
    public static final String OFF = "off";

    /** No load connected. */
    public static Setpoint noLoad(double lineV) {
        return new Setpoint(OFF, 0, lineV);
    }

    /** The level asked for, in the mode's unit. */
    public double level() {
        return levelDimensionless;
    }
}

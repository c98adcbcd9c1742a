package railproof.report;

import java.util.List;

/**
 * Where a graph is drawn: in HTML as SVG, or on paper as PDF. Coordinates as on a screen: to the right and down, in
 * the graph's own pixels.
 */
interface Drawing {
    /** What a line is for; each is told from the others without colour. */
    enum Pen {
        /** Lines of the grid: thin, light. */
        GRID,
        /** The curve of the run: solid, dark. */
        CURVE,
        /** The curve of the run before the repair: dashed. */
        BEFORE,
        /** Where a curve was broken off and taken up again: thin, dotted. */
        BREAK,
        /** Uncertainty, up and down from a point. */
        BAR,
        /** A circle around a point that is spoken of. */
        MARK
    }

    /** Which end of a text stands at its spot. */
    enum Align {
        START,
        MIDDLE,
        END
    }

    /** A place. */
    record Spot(double xDimensionless, double yDimensionless) {}

    /** A filled area of what is allowed. */
    void band(Spot topLeft, Spot bottomRight);

    void line(Pen pen, Spot from, Spot to);

    void polyline(Pen pen, List<Spot> spots);

    /** A point of a curve; filled, or a ring for {@link Pen#BEFORE} and {@link Pen#MARK}. */
    void dot(Pen pen, Spot middle, double radius);

    void text(Align align, Spot at, String text);

    /** Text that reads upwards, its middle at the spot. */
    void upwards(Spot at, String text);
}

package railproof.run;

import java.util.List;

/**
 * A whole run as archived: all that any verdict, diagnosis or certificate may be computed from.
 *
 * @param header what it is about
 * @param points all finished points, in order
 * @param waveforms all captures, in order
 * @param events all other events, in order
 * @param outcome how it ended
 */
public record RunData(
        RunHeader header, List<Point> points, List<Waveform> waveforms, List<RunEvent> events, RunOutcome outcome) {
    public RunData {
        points = List.copyOf(points);
        waveforms = List.copyOf(waveforms);
        events = List.copyOf(events);
    }

    /** The points of one section and rail, in order. */
    public List<Point> points(Section section, String rail) {
        return points.stream()
                .filter(point -> point.section() == section && point.rail().equals(rail))
                .toList();
    }
}

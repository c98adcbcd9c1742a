package railproof.ui;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import railproof.app.RunResult;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.rig.Glance;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.signal.RippleOrigin;

/**
 * All a window shows of a run, at one instant. Immutable.
 *
 * @param change counts the views of a run: no two have the same number
 * @param phase where the run is
 * @param rail the rail at work; empty before the first
 * @param section the procedure at work
 * @param next the procedure that comes after it, with its rail; empty at the end
 * @param planned how many points the whole run is expected to have
 * @param elapsedS time since the start of the run at the last event, s
 * @param points all points so far
 * @param latest the newest reading of every quantity of the rail at work
 * @param capture the newest capture
 * @param rawRipple what kinds of ripple the reservoir showed in it, the strongest first; empty without a probe there
 * @param glance what the bench does at this moment
 * @param prompt what the operator is asked or has to do; empty if there is nothing
 * @param answerable whether the prompt wants an answer
 * @param remarks notes and warnings, the newest last
 * @param outcome how the run ended, once it has
 * @param result what came of it, once it is judged
 * @param trouble why there is no result; empty if nothing went wrong
 */
public record RunView(
        long change,
        Phase phase,
        String rail,
        Optional<Section> section,
        Optional<Agenda.Item> next,
        int planned,
        double elapsedS,
        List<Point> points,
        Map<Quantity, Reading> latest,
        Optional<Waveform> capture,
        List<RippleOrigin> rawRipple,
        Glance glance,
        String prompt,
        boolean answerable,
        List<String> remarks,
        Optional<RunOutcome> outcome,
        Optional<RunResult> result,
        String trouble) {

    /** Where a run is. */
    public enum Phase {
        /** Instruments are being met; each is switched off first. */
        CONNECTING,
        /** The procedures go on. */
        RUNNING,
        /** A stop was asked for; everything is being switched off. */
        STOPPING,
        /** Everything that could be switched off is; the record is being judged. */
        JUDGING,
        /** Over. */
        ENDED
    }

    public RunView {
        points = List.copyOf(points);
        latest = latest.isEmpty() ? Map.of() : new EnumMap<>(latest);
        rawRipple = List.copyOf(rawRipple);
        remarks = List.copyOf(remarks);
    }

    /** The newest reading, or {@link Missing}. */
    public Reading reading(Quantity quantity) {
        Reading reading = latest.get(quantity);
        return reading != null ? reading : new Missing("not measured");
    }

    /** Points of one section of the rail at work, in order. */
    public List<Point> pointsOf(Section wanted) {
        return points.stream()
                .filter(point -> point.section() == wanted && point.rail().equals(rail))
                .toList();
    }

    /** Whether something may be switched on. */
    public boolean live() {
        return phase == Phase.CONNECTING || phase == Phase.RUNNING || phase == Phase.STOPPING;
    }

    /** How far the run is, 0 to 1. */
    public double doneRatio() {
        return planned == 0 ? 0 : Math.min(1, (double) points.size() / planned);
    }

    /** Time left at the pace so far, s; empty while that says nothing yet. */
    public OptionalDouble leftS() {
        int done = points.size();
        return done < 2 || planned <= done || phase != Phase.RUNNING
                ? OptionalDouble.empty()
                : OptionalDouble.of(elapsedS / done * (planned - done));
    }
}

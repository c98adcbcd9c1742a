package railproof.ui;

import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import railproof.base.Unit;
import railproof.report.Quantities;
import railproof.rig.Glance;
import railproof.run.SafeState;
import railproof.run.Setpoint;

/**
 * How loads and line stand, for the bar below every screen. Immutable.
 *
 * @param load the loads
 * @param line the line
 * @param hint what the stop does, or what holds after it
 * @param canStop whether there is something to stop
 */
record Power(Field load, Field line, String hint, boolean canStop) {
    /** Nothing has instruments in its hands. */
    /** What to do where nobody knows whether load and line are off. */
    static final String NOT_CONFIRMED =
            "NOT CONFIRMED that everything is off. Switch the mains off by hand, then look.";

    static final Power IDLE =
            both(new Field(State.UNUSED, "not in use"), "No run. This program has nothing switched on.", false);

    private static final String STOP_WORDS =
            "Takes the load off at once, then the line. The emergency stop on the bench works without this program.";

    /** How sure it is that something is on. */
    enum State {
        /** Not in this program's hands, or not yet. */
        UNUSED,
        OFF,
        ON,
        /** It should be off, and nobody confirms it. */
        DOUBT
    }

    /** One of the two. */
    record Field(State state, String detail) {}

    /** Nothing is switched on, and it says why. */
    static Power off(String detail, String hint, boolean canStop) {
        return both(new Field(State.OFF, detail), hint, canStop);
    }

    private static Power both(Field field, String hint, boolean canStop) {
        return new Power(field, field, hint, canStop);
    }

    /** That of one run. */
    static Power of(RunView view) {
        if (view.outcome().isPresent()) {
            return ended(view.outcome().get().safeState());
        }
        Glance glance = view.glance();
        if (view.phase() == RunView.Phase.CONNECTING && glance.equals(Glance.DARK)) {
            return both(new Field(State.UNUSED, "being switched off"), STOP_WORDS, true);
        }
        Field load =
                glance.loadOn() ? new Field(State.ON, loads(glance.loads())) : new Field(State.OFF, "switched off");
        Field line = glance.lineOn()
                ? new Field(State.ON, Quantities.plain(glance.lineV(), Unit.VOLT))
                : new Field(State.OFF, "switched off");
        boolean stopping = view.phase() == RunView.Phase.STOPPING;
        return new Power(
                load, line, stopping ? "Stopping: load off, then line off …" : STOP_WORDS, view.live() && !stopping);
    }

    private static Power ended(SafeState safe) {
        return switch (safe) {
            case CONFIRMED ->
                off("confirmed", "The run is over. Capacitors keep their charge: measure before you touch.", false);
            case COMMANDED, UNKNOWN -> {
                yield both(new Field(State.DOUBT, "not confirmed"), NOT_CONFIRMED, false);
            }
        };
    }

    /** That of several benches together: what one of them has on is on. */
    static Power together(List<Power> benches) {
        if (benches.size() == 1) {
            return benches.get(0);
        }
        boolean doubt = benches.stream().anyMatch(power -> power.line.state == State.DOUBT);
        boolean canStop = benches.stream().anyMatch(Power::canStop);
        String hint = doubt
                ? "NOT CONFIRMED on every bench that all is off. Switch that bench's mains off by hand, then look."
                : canStop
                        ? "Stops every unit: loads off at once, then lines. A single unit has a stop of its own above."
                        : "No unit is under way. Capacitors keep their charge: measure before you touch.";
        return new Power(field(benches, Power::load), field(benches, Power::line), hint, canStop);
    }

    private static Field field(List<Power> benches, Function<Power, Field> which) {
        long on = count(benches, which, State.ON);
        long doubt = count(benches, which, State.DOUBT);
        if (doubt > 0) {
            return new Field(State.DOUBT, doubt + " of " + benches.size() + " not confirmed");
        }
        if (on > 0) {
            return new Field(State.ON, "on " + on + " of " + benches.size() + " benches");
        }
        long unused = count(benches, which, State.UNUSED);
        return unused > 0
                ? new Field(State.UNUSED, "being switched off on " + unused)
                : new Field(State.OFF, "on all benches");
    }

    private static long count(List<Power> benches, Function<Power, Field> which, State state) {
        return benches.stream()
                .filter(power -> which.apply(power).state == state)
                .count();
    }

    private static String loads(Map<String, Setpoint> loads) {
        return loads.entrySet().stream()
                .map(entry -> (loads.size() > 1 ? entry.getKey() + " " : "") + setpoint(entry.getValue()))
                .collect(Collectors.joining(", "));
    }

    private static String setpoint(Setpoint asked) {
        Unit unit =
                switch (asked.mode()) {
                    case "CV" -> Unit.VOLT;
                    case "CR" -> Unit.OHM;
                    default -> Unit.AMPERE;
                };
        return Glances.rounded(asked.level(), unit);
    }
}

package railproof.campaign;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import railproof.rig.Bench;
import railproof.run.Section;

/** Follows what a run is doing by looking over the shoulder of its procedures. */
final class PhaseSpy {
    private Phase.Step step = Phase.Step.CONNECT;
    private Section section = Section.NO_LOAD;

    Phase.Step step() {
        return step;
    }

    /** The procedures are through. */
    void over() {
        step = Phase.Step.MAKE_SAFE;
    }

    /** The bench with the spy in between. */
    Bench watched(Bench bench) {
        step = Phase.Step.LIMITS;
        return (Bench) Proxy.newProxyInstance(
                Bench.class.getClassLoader(), new Class<?>[] {Bench.class}, (proxy, method, args) -> {
                    Phase.Step before = step;
                    if (method.getName().equals("section")) {
                        section = (Section) args[0];
                    }
                    step = stepOf(method.getName(), before);
                    try {
                        return method.invoke(bench, args);
                    } catch (InvocationTargetException e) {
                        throw e.getCause();
                    } finally {
                        step = before;
                    }
                });
    }

    private Phase.Step stepOf(String method, Phase.Step before) {
        if (method.equals("envelope")) {
            return Phase.Step.LIMITS;
        }
        boolean own = section != Section.NO_LOAD;
        return switch (method) {
            case "lineOn" -> own ? Phase.Step.LINE : Phase.Step.LINE_UP;
            case "lineOff", "lineSwitch", "lineCurrent" -> own ? Phase.Step.LINE : Phase.Step.LINE_UP;
            case "load", "loadInput" -> Phase.Step.LOAD;
            case "look", "average", "loadCurrent" -> own ? Phase.Step.LOOK : Phase.Step.NO_LOAD;
            case "capture", "captureDuring" -> own ? Phase.Step.CAPTURE : Phase.Step.NO_LOAD;
            case "pause" -> own ? Phase.Step.WAIT : Phase.Step.NO_LOAD;
            case "record", "section", "note" -> own ? Phase.Step.KEEP : Phase.Step.NO_LOAD;
            default -> before;
        };
    }
}

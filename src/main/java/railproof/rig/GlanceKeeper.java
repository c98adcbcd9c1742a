package railproof.rig;

import java.util.Map;
import java.util.OptionalDouble;
import railproof.run.Setpoint;

/** Puts together what an operator's display is shown. Thread: control thread only. */
final class GlanceKeeper {
    private final Operator operator;
    private Glance now = Glance.DARK;

    GlanceKeeper(Operator operator) {
        this.operator = operator;
    }

    void line(double rmsV) {
        show(new Glance(now.rail(), now.loads(), rmsV, now.outputV()));
    }

    void loads(String rail, Map<String, Setpoint> on) {
        show(new Glance(rail, on, now.lineV(), rail.equals(now.rail()) ? now.outputV() : OptionalDouble.empty()));
    }

    void output(String rail, double outputV) {
        show(new Glance(rail, now.loads(), now.lineV(), OptionalDouble.of(outputV)));
    }

    private void show(Glance next) {
        now = next;
        operator.sees(next);
    }
}

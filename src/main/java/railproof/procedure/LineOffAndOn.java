package railproof.procedure;

import java.time.Duration;
import java.util.Map;
import railproof.base.Reading;
import railproof.instrument.LoadMode;
import railproof.profile.Procedure;
import railproof.profile.Profile;
import railproof.profile.Program;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.run.Waveform;

/**
 * Line off at full load (hold-up), and line on into a load that is there already (start-up): once as a resistance, once
 * as a constant current. A foldback supply need not start into a constant current between its short-circuit current and
 * its knee, and neither does it then with motors or lamps; so both are shown.
 */
final class LineOffAndOn {
    /** Into a resistance and into a constant current. */
    static final int START_POINTS = 2;

    /** Below this part of nominal with the load off again, a limit has latched. */
    private static final double LATCHED_RATIO = 0.5;

    private final Bench bench;
    private final Profile profile;
    private final Program program;
    private final Readings readings;

    LineOffAndOn(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.program = profile.plan().program();
        this.readings = readings;
    }

    /** Does what the profile asks for of the two; leaves the line on and the load off. */
    void run(Rail rail) throws RunEndException {
        boolean holdUp = program.has(Procedure.HOLD_UP);
        boolean start = program.has(Procedure.START_UP);
        if (!holdUp && !start) {
            return;
        }
        if (!bench.lineSwitchesUnderLoad()) {
            bench.note(
                    RunEvent.Note.Level.WARNING,
                    rail.name() + ": this rig cannot switch the line under load; no hold-up, no start-up");
            return;
        }
        if (holdUp) {
            holdUp(rail);
        }
        if (start) {
            bench.section(Section.START_UP, rail.name(), START_POINTS);
            double loadOhm = Math.abs(rail.nominalV()) / rail.ratedCurrentA();
            start(rail, LoadMode.RESISTANCE, loadOhm, "into a resistance");
            start(rail, LoadMode.CURRENT, rail.ratedCurrentA(), "into a constant current");
        }
        restore(rail);
    }

    /**
     * How long the output holds depends on when the line goes: just after the rectifier has filled the reservoir, or
     * just before it would again, which is nearly half a cycle less. So the line goes off at several phases.
     */
    private void holdUp(Rail rail) throws RunEndException {
        int phases = program.holdUp().phases();
        bench.section(Section.HOLD_UP, rail.name(), phases);
        LinePhasing phasing = new LinePhasing(bench, profile.line().frequencyHz(), phases);
        for (int i = 0; i < phases; i++) {
            if (i > 0) {
                bench.loadInput(rail.name(), false);
                bench.lineOn(profile.line().nominalV(), profile.line().frequencyHz());
                readings.settle(rail);
                if (Math.abs(readings.lastLookV()) < LATCHED_RATIO * Math.abs(rail.nominalV())) {
                    restore(rail);
                }
            }
            bench.load(rail.name(), LoadMode.CURRENT, rail.ratedCurrentA());
            bench.loadInput(rail.name(), true);
            readings.settle(rail);
            Reading current = bench.loadCurrent(rail.name());
            Bench.Span record = span(program.holdUp().record());
            Bench.Span longer = new Bench.Span(record.beforeS(), record.afterS() + phasing.longestWaitS());
            Waveform waveform = bench.captureDuring(Section.HOLD_UP, rail.name(), longer, () -> {
                phasing.await();
                bench.lineSwitch(false);
            });
            Map<Quantity, Reading> seen =
                    bench.workOut(() -> readings.transients(rail, waveform).holdUp());
            phasing.saw(seen.get(Quantity.LINE_PHASE));
            seen.put(Quantity.LOAD_CURRENT, current);
            readings.keep(rail, waveform, seen, "line off");
        }
    }

    /**
     * The load stays on while the line is off, so that the unit starts from as little charge as that load leaves it: a
     * regulator alone keeps half of its reservoir for many seconds, and from there it starts in half the time.
     */
    private void start(Rail rail, LoadMode mode, double level, String note) throws RunEndException {
        bench.loadInput(rail.name(), false);
        bench.lineSwitch(false);
        bench.load(rail.name(), mode, level);
        bench.loadInput(rail.name(), true);
        bench.pause(program.start().off());
        Reading left = bench.average(rail.name(), Quantity.RAW, readings.windowS());
        Waveform waveform = bench.captureDuring(
                Section.START_UP, rail.name(), span(program.start().record()), () -> bench.lineSwitch(true));
        Map<Quantity, Reading> seen =
                bench.workOut(() -> readings.transients(rail, waveform).start());
        seen.put(Quantity.RAW, left);
        seen.put(Quantity.LOAD_CURRENT, bench.loadCurrent(rail.name()));
        readings.keep(rail, waveform, seen, note);
    }

    private Bench.Span span(Duration record) {
        return new Bench.Span(readings.quietS(), record.toMillis() / 1e3);
    }

    /** A limit that latched on the way is cleared by the line being off without load. */
    private void restore(Rail rail) throws RunEndException {
        bench.loadInput(rail.name(), false);
        bench.lineOff();
        bench.pause(program.start().off());
        bench.lineOn(profile.line().nominalV(), profile.line().frequencyHz());
        readings.settle(rail);
    }
}

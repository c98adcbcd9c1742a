package railproof.rig;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import railproof.instrument.LoadMode;
import railproof.instrument.LoadProtection;
import railproof.instrument.LoadReading;
import railproof.run.Setpoint;

/** The bench's loads: what is asked of them and where they are connected. Thread: control thread only. */
final class LoadSide {
    /** So often in a row something is seen before it is believed. */
    static final int LOOKS = 3;

    /** A load's own meter has forgotten by then what it drew, s (common practice, no source). */
    private static final double METER_S = 0.5;

    private final Rig rig;
    private final BenchTalk talk;
    private final Contacts contacts;
    private final LoadLeads leads;
    private final Map<String, RailPosition> positions = new HashMap<>();
    private final Map<String, Envelope> envelopes = new HashMap<>();
    private final Map<String, LoadMode> modes = new HashMap<>();
    private final Map<String, Double> levels = new HashMap<>();
    private final Map<String, Boolean> inputs = new HashMap<>();
    private final Map<String, Double> offAtS = new HashMap<>();

    LoadSide(Rig rig, BenchTalk talk, Contacts contacts, LoadLeads leads) {
        this.rig = rig;
        this.talk = talk;
        this.contacts = contacts;
        this.leads = leads;
        for (RailPosition position : rig.positions()) {
            positions.put(position.rail(), position);
            inputs.put(position.load().name(), false);
        }
    }

    RailPosition at(String rail) {
        RailPosition position = positions.get(rail);
        if (position == null) {
            throw new IllegalArgumentException("no position for rail " + rail);
        }
        return position;
    }

    /** Keeps the envelope and writes it to the load. */
    void envelope(String rail, Envelope envelope) throws RunEndException {
        protect(at(rail), envelope);
        envelopes.put(rail, envelope);
    }

    private void protect(RailPosition position, Envelope envelope) throws RunEndException {
        talk.command(() -> position.load()
                .protect(new LoadProtection(
                        envelope.overCurrentA(),
                        envelope.overVoltageV(),
                        envelope.overCurrentA() * envelope.overVoltageV())));
    }

    boolean everyRailHasItsEnvelope() {
        return envelopes.keySet().containsAll(positions.keySet());
    }

    Map<String, Envelope> envelopes() {
        return envelopes;
    }

    Envelope envelopeOf(RailPosition position) {
        Envelope envelope = envelopes.get(position.rail());
        if (envelope == null) {
            throw new IllegalStateException(position.rail() + " has no envelope yet");
        }
        return envelope;
    }

    void set(String rail, LoadMode mode, double level) throws RunEndException {
        Envelope envelope = envelopes.get(rail);
        if (envelope == null) {
            throw new IllegalStateException("load on " + rail + " before its envelope");
        }
        if (mode == LoadMode.CURRENT && level > envelope.overCurrentA()) {
            throw new IllegalArgumentException(
                    "asked for " + level + " A on " + rail + ", envelope allows " + envelope.overCurrentA());
        }
        connect(rail, envelope);
        talk.command(() -> at(rail).load().set(mode, level));
        modes.put(rail, mode);
        levels.put(rail, level);
    }

    /** A load shared by several rails is brought to this one first, its input off. */
    private void connect(String rail, Envelope envelope) throws RunEndException {
        RailPosition position = at(rail);
        if (leads.areOn(position)) {
            return;
        }
        talk.command(() -> position.load().input(false));
        inputs.put(position.load().name(), false);
        offAtS.put(position.load().name(), talk.elapsedS());
        rig.positions().stream()
                .filter(other -> other.load() == position.load())
                .forEach(other -> modes.remove(other.rail()));
        // on its way it may see any of its rails, and must not take that for an over-voltage
        protect(position, new Envelope(envelope.nominalV(), highestV(position), envelope.overCurrentA()));
        leads.bring(position);
        protect(position, envelope);
    }

    private double highestV(RailPosition position) {
        return rig.positions().stream()
                .filter(other -> other.load() == position.load())
                .map(other -> envelopes.get(other.rail()))
                .filter(Objects::nonNull)
                .mapToDouble(Envelope::overVoltageV)
                .max()
                .orElseThrow();
    }

    void input(String rail, boolean on) throws RunEndException {
        RailPosition position = at(rail);
        if (on) {
            if (!envelopes.containsKey(rail)) {
                throw new IllegalStateException("load input on " + rail + " before its envelope");
            }
            rig.guard().energised(true);
            contacts.relays(position.loadRelayMask(), true);
            contacts.closeContactor();
        } else if (!leads.areOn(position)) {
            return;
        }
        talk.command(() -> position.load().input(on));
        inputs.put(position.load().name(), on);
        offAtS.put(position.load().name(), talk.elapsedS());
    }

    /** Whether the rail's load was told to draw: its leads are on the rail and its input on. */
    boolean inputOn(RailPosition position) {
        return leads.areOn(position) && inputs.getOrDefault(position.load().name(), false);
    }

    Setpoint asked(String rail, double lineAskedV) {
        LoadMode mode = modes.get(rail);
        if (mode == null || !inputOn(at(rail))) {
            return Setpoint.noLoad(lineAskedV);
        }
        String name =
                switch (mode) {
                    case CURRENT -> "CC";
                    case VOLTAGE -> "CV";
                    case RESISTANCE -> "CR";
                };
        return new Setpoint(name, levels.getOrDefault(rail, 0.0), lineAskedV);
    }

    /** What the loads hold whose inputs are on, by rail. */
    Map<String, Setpoint> on(double lineAskedV) {
        Map<String, Setpoint> on = new LinkedHashMap<>();
        for (RailPosition position : rig.positions()) {
            Setpoint asked = asked(position.rail(), lineAskedV);
            if (!asked.mode().equals(Setpoint.OFF)) {
                on.put(position.rail(), asked);
            }
        }
        return on;
    }

    /** A new measurement at the load's terminals. */
    LoadReading measure(RailPosition position) throws RunEndException {
        return talk.exchange(() -> position.load().measure());
    }

    /** Why a measurement cannot be, beside what was asked and what the board sees; empty if it can. */
    Optional<String> doubt(RailPosition position, Bench.Look seen, LoadReading reading) {
        LoadMode mode = modes.get(position.rail());
        Envelope envelope = envelopes.get(position.rail());
        if (mode == null || envelope == null) {
            return Optional.empty();
        }
        return new Plausibility(position, envelope, rig.wiring().leadOhm())
                .doubt(mode, levels.getOrDefault(position.rail(), 0.0), seen, reading);
    }

    /** A load that nobody told to draw must not draw; asked again before it is believed to. */
    void requireOff(RailPosition position) throws RunEndException {
        String load = position.load().name();
        double offForS = talk.elapsedS() - offAtS.getOrDefault(load, Double.NEGATIVE_INFINITY);
        // what a load shows is a mean over some time before
        if (inputs.getOrDefault(load, false) || offForS < METER_S) {
            return;
        }
        double limitA = Plausibility.offLimitA(position);
        double seenA = 0;
        for (int i = 0; i < LOOKS; i++) {
            seenA = measure(position).currentA();
            if (seenA <= limitA) {
                return;
            }
        }
        throw talk.doubted(
                String.format(Locale.ROOT, "load \"%s\" draws %.3g A with its input commanded off", load, seenA));
    }
}

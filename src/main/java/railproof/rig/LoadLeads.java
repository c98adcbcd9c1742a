package railproof.rig;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import railproof.instrument.LoadReading;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;

/**
 * Where the leads of every load are. A load that several rails share is moved by relays if each of its positions has
 * one of its own, otherwise by the operator; then the bench looks whether it is where it was asked to be before any
 * current: the load and the board must see the same voltage.
 *
 * <p>Thread: control thread only.
 */
final class LoadLeads {
    /** Load and board may differ by this share of what they see, for their errors. */
    private static final double SAME_RATIO = 0.02;
    /** And by this much, V. */
    private static final double SAME_V = 0.1;

    private static final double LOOK_S = 0.1;
    private static final int TRIES = 3;

    private final Rig rig;
    private final BenchTalk talk;
    private final BoardSight sight;
    private final Contacts contacts;
    private final Question person;
    private final Map<String, RailPosition> on = new HashMap<>();

    LoadLeads(Rig rig, BenchTalk talk, BoardSight sight, Contacts contacts, Question person) {
        this.rig = rig;
        this.talk = talk;
        this.sight = sight;
        this.contacts = contacts;
        this.person = person;
        for (RailPosition position : rig.positions()) {
            if (sharers(position).size() == 1) {
                on.put(position.load().name(), position);
            }
        }
    }

    /** Asks the operator and waits. */
    @FunctionalInterface
    interface Question {
        String ask(String text) throws RunEndException;
    }

    boolean areOn(RailPosition position) {
        return position.equals(on.get(position.load().name()));
    }

    private List<RailPosition> sharers(RailPosition position) {
        return rig.positions().stream()
                .filter(other -> other.load() == position.load())
                .toList();
    }

    /** Brings a load whose input is off to a position. */
    void bring(RailPosition position) throws RunEndException {
        String load = position.load().name();
        on.remove(load);
        boolean byRelay = sharers(position).stream().allMatch(other -> other.loadRelayMask() != 0);
        if (byRelay) {
            for (RailPosition other : sharers(position)) {
                contacts.relays(other.loadRelayMask(), other.equals(position));
            }
            on.put(load, position);
            return;
        }
        String trouble = "";
        for (int i = 0; i < TRIES; i++) {
            person.ask(trouble + "Load \"" + load + "\": its input is off. Move both its leads to the terminals of "
                    + position.rail() + ", then press Enter.");
            Optional<String> wrong = wrong(position);
            if (wrong.isEmpty()) {
                on.put(load, position);
                return;
            }
            trouble = wrong.get() + " ";
        }
        throw new RunEndException(
                RunOutcome.End.STOPPED, trouble + "The load was not brought to " + position.rail() + ".");
    }

    /** Why the leads are not where they should be, as far as voltages tell; empty if nothing stands against it. */
    private Optional<String> wrong(RailPosition position) throws RunEndException {
        contacts.relays(position.loadRelayMask(), true);
        contacts.closeContactor();
        LoadReading seen = talk.exchange(() -> position.load().measure());
        double loadV = Math.abs(seen.voltageV());
        double railV = outputV(position);
        List<RailPosition> lookalikes = new ArrayList<>();
        for (RailPosition other : sharers(position)) {
            if (!other.equals(position) && same(loadV, outputV(other))) {
                lookalikes.add(other);
            }
        }
        String names = lookalikes.stream().map(RailPosition::rail).collect(Collectors.joining(" or "));
        if (same(loadV, railV)) {
            return names.isEmpty() ? Optional.empty() : confirmedByEye(position, names);
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "The load sees %.2f V, %s has %.2f V%s.",
                loadV,
                position.rail(),
                railV,
                names.isEmpty() ? "" : ": the leads seem to be on " + names));
    }

    /** Rails of one voltage cannot be told apart without current; then only the person's eyes tell. */
    private Optional<String> confirmedByEye(RailPosition position, String twins) throws RunEndException {
        String answer = person.ask("The voltage does not tell " + position.rail() + " from " + twins
                + ". Look at the terminals: are the leads on " + position.rail() + "? Type yes or no.");
        if (answer.strip().equalsIgnoreCase("yes")) {
            talk.emit(new RunEvent.Note(
                    talk.elapsedS(),
                    RunEvent.Note.Level.INFO,
                    "the leads are on " + position.rail() + " by the operator's word: its voltage is that of "
                            + twins));
            return Optional.empty();
        }
        return Optional.of("The leads are not on " + position.rail() + ".");
    }

    private double outputV(RailPosition position) throws RunEndException {
        return Math.abs(sight.look(position.output(), LOOK_S).meanV());
    }

    private static boolean same(double a, double b) {
        return Math.abs(a - b) <= SAME_V + SAME_RATIO * Math.max(a, b);
    }
}

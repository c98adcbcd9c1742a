package railproof.rig;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
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
    /** A rail with less than this is down and cannot be seen through a contact, V. */
    private static final double DEAD_V = 1;

    private static final int OPEN_LOOKS = 20;
    private static final Duration BETWEEN_LOOKS = Duration.ofMillis(100);

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
        if (sharers(position).stream().allMatch(other -> other.loadRelayMask() != 0)) {
            bringByRelay(position);
        } else {
            bringByHand(position);
        }
        on.put(load, position);
    }

    /**
     * Every relay of the load opens before one closes: two closed at once would tie two rails together. And none may be
     * seen to have stayed closed, for the same reason.
     */
    private void bringByRelay(RailPosition position) throws RunEndException {
        int all = 0;
        for (RailPosition other : sharers(position)) {
            all |= other.loadRelayMask();
        }
        contacts.relays(all, false);
        contacts.closeContactor();
        refuseWelded(position);
        Sighting seen = look(position);
        if (!seen.onRail()) {
            throw new RunEndException(
                    RunOutcome.End.FAULTED,
                    "Load \"" + position.load().name() + "\" was switched to " + position.rail()
                            + " by its relay, its input off. " + seen.words(position)
                            + " Look at the relays and their wiring.");
        }
        if (!seen.twins().isEmpty()) {
            talk.emit(new RunEvent.Note(
                    talk.elapsedS(),
                    RunEvent.Note.Level.INFO,
                    "load \"" + position.load().name() + "\" is on " + position.rail()
                            + " as far as its relay is wired right: " + seen.twins() + " has the same voltage"));
        }
    }

    /** With all relays open the load must not see a rail; its input gives up within moments what it has stored. */
    private void refuseWelded(RailPosition position) throws RunEndException {
        Optional<RailPosition> seen = Optional.empty();
        for (int i = 0; i < OPEN_LOOKS; i++) {
            talk.pause(BETWEEN_LOOKS);
            double loadV = loadV(position);
            seen = Optional.empty();
            for (RailPosition other : sharers(position)) {
                double railV = outputV(other);
                if (railV > DEAD_V && same(loadV, railV)) {
                    seen = Optional.of(other);
                }
            }
            if (seen.isEmpty()) {
                return;
            }
        }
        throw new RunEndException(
                RunOutcome.End.FAULTED,
                "Load \"" + position.load().name() + "\" sees the voltage of "
                        + seen.map(RailPosition::rail).orElse("a rail")
                        + " with all its relays open: a contact is welded or wired past. Nothing was loaded.");
    }

    private void bringByHand(RailPosition position) throws RunEndException {
        String trouble = "";
        for (int i = 0; i < TRIES; i++) {
            person.ask(trouble + "Load \"" + position.load().name() + "\": its input is off. Move both its leads to the"
                    + " terminals of " + position.rail() + ", then press Enter.");
            Optional<String> wrong = wrong(position);
            if (wrong.isEmpty()) {
                return;
            }
            trouble = wrong.get() + " ";
        }
        throw new RunEndException(
                RunOutcome.End.STOPPED, trouble + "The load was not brought to " + position.rail() + ".");
    }

    /**
     * What load and board see of each other.
     *
     * @param loadV at the load's terminals, V
     * @param railV at the rail's, V
     * @param twins other rails of the load that have the voltage it sees; empty if none
     */
    private record Sighting(double loadV, double railV, String twins) {
        boolean onRail() {
            return same(loadV, railV);
        }

        String words(RailPosition position) {
            return String.format(
                    Locale.ROOT,
                    "The load sees %.2f V, %s has %.2f V%s.",
                    loadV,
                    position.rail(),
                    railV,
                    twins.isEmpty() ? "" : ": the leads seem to be on " + twins);
        }
    }

    private Sighting look(RailPosition position) throws RunEndException {
        contacts.relays(position.loadRelayMask(), true);
        contacts.closeContactor();
        talk.pause(BETWEEN_LOOKS);
        double loadV = loadV(position);
        List<String> twins = new ArrayList<>();
        for (RailPosition other : sharers(position)) {
            if (!other.equals(position) && same(loadV, outputV(other))) {
                twins.add(other.rail());
            }
        }
        return new Sighting(loadV, outputV(position), String.join(" or ", twins));
    }

    private double loadV(RailPosition position) throws RunEndException {
        LoadReading seen = talk.exchange(() -> position.load().measure());
        return Math.abs(seen.voltageV());
    }

    /** Why the leads are not where they should be, as far as voltages tell; empty if nothing stands against it. */
    private Optional<String> wrong(RailPosition position) throws RunEndException {
        Sighting seen = look(position);
        if (seen.onRail()) {
            return seen.twins().isEmpty() ? Optional.empty() : confirmedByEye(position, seen.twins());
        }
        return Optional.of(seen.words(position));
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

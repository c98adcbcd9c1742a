package railproof.ui;

import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import railproof.app.BurnInRequest;
import railproof.app.BurnInService;
import railproof.app.ExitStatus;
import railproof.base.BadFileException;

/** All units of the wall together. Units may come while others go on. Thread: any. */
final class BurnInWork implements BenchWork {
    private final List<BurnInUnit> units = new CopyOnWriteArrayList<>();

    /** The units, in the order in which they came. */
    List<BurnInUnit> units() {
        return List.copyOf(units);
    }

    void add(BurnInUnit unit) {
        units.add(unit);
    }

    /** Takes a unit that is over off the wall. */
    void remove(BurnInUnit unit) {
        units.remove(unit);
    }

    /**
     * Says whether a unit can join those that are under way.
     *
     * @throws BadFileException if it would share a rig, a port or a serial number with one of them
     */
    void requireApart(BurnInRequest next) throws BadFileException {
        List<BurnInRequest> all = new java.util.ArrayList<>();
        for (BurnInUnit unit : units) {
            if (!unit.over()) {
                all.add(unit.asked());
            }
        }
        all.add(next);
        // a service that is never run opens nothing; it refuses what would share anything
        BurnInService unused = new BurnInService(all);
        if (unused.control().units().size() != all.size()) {
            throw new IllegalStateException("a unit got lost");
        }
    }

    @Override
    public String words() {
        return units.size() == 1
                ? "the burn-in of unit " + units.get(0).unit()
                : "the burn-in of " + units.size() + " units";
    }

    @Override
    public void stop(String how) {
        units.stream().filter(unit -> !unit.over()).forEach(unit -> unit.stop(how));
    }

    @Override
    public boolean over() {
        return units.stream().allMatch(BurnInUnit::over);
    }

    @Override
    public Power power() {
        return units.isEmpty()
                ? Power.IDLE
                : Power.together(
                        units.stream().map(unit -> Power.of(unit.view())).toList());
    }

    @Override
    public String wants() {
        return units.stream()
                .filter(unit -> !unit.view().prompt().isEmpty())
                .findFirst()
                .map(unit -> unit.unit() + ": " + unit.view().prompt())
                .orElse("");
    }

    @Override
    public boolean simulated() {
        return units.stream().anyMatch(BurnInUnit::simulated);
    }

    @Override
    public ExitStatus status() {
        return BurnInService.worstOf(units.stream().map(BurnInUnit::status).toList());
    }
}

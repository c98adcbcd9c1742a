package railproof.sim;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.function.Consumer;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.SimulatedBoard;
import railproof.sim.device.SimulatedLineSource;
import railproof.sim.device.SimulatedLoad;
import railproof.wire.Peer;

/**
 * A whole bench in one object: the far ends of all links, one world behind them. Speaks bytes only; drive it from
 * memory links with a virtual clock, or pump it over real ports.
 *
 * <p>All devices share one present: before any of them is spoken to, all are brought to now, the board first, because
 * its samples lie at instants of their own.
 *
 * <p>Thread: any; one caller at a time is let in, because an emergency OFF may come from another thread than the one
 * that drives the links.
 */
public final class SimulatedBench {
    private final SimulatedBoard board;
    private final LoadedUnit unit;
    private final SimulatedWorld world;
    private final List<byte[]> boardSpoke = new ArrayList<>();
    private long nowNs;

    /**
     * A bench with everything off.
     *
     * @param plant the unit on it
     * @param plan how it is wired
     * @param handLineHz frequency of a hand-turned line, Hz
     */
    public SimulatedBench(Plant plant, BenchPlan plan, double handLineHz) {
        unit = new LoadedUnit(plant, plan, handLineHz);
        world = unit.world();
        BoardSettings settings = BoardSettings.standard("SIM-0001", plan.adc(), plan.seed())
                .withClockErrorRatio(plan.flaws().boardClockErrorRatio());
        board = new SimulatedBoard(settings, world, world, 0);
    }

    /** The far end of the board's link. */
    public Peer board() {
        return new Peer() {
            @Override
            public void receive(byte[] bytes, Consumer<byte[]> reply) {
                synchronized (SimulatedBench.this) {
                    deliver(reply);
                    board.receive(bytes, reply);
                }
            }

            @Override
            public void advanceTo(long toNs, Consumer<byte[]> reply) {
                synchronized (SimulatedBench.this) {
                    bringTo(toNs);
                    deliver(reply);
                }
            }

            @Override
            public OptionalLong nextEventNs() {
                synchronized (SimulatedBench.this) {
                    return boardSpoke.isEmpty() ? board.nextEventNs() : OptionalLong.of(nowNs);
                }
            }
        };
    }

    /** The far end of a load's link. */
    public Peer load(String name) {
        unit.load(name); // an unknown name is noticed here and not at the first word
        return talker((bytes, reply) -> unit.tellLoad(name, bytes, reply));
    }

    /** The far end of the line source's link. */
    public Peer lineSource() {
        return talker(unit::tellLineSource);
    }

    /** Turns the hand-turned variac to a voltage, V. */
    public synchronized void turnLineTo(double rmsV) {
        world.turnLineTo(rmsV);
    }

    /** Moves both leads of a load to another rail of the unit, by its index. */
    public synchronized void moveLoad(String name, int rail) {
        world.moveLoad(name, rail);
    }

    /** Sets the calibrator to a voltage, V (or to what the input's sensor would read). */
    public synchronized void calibrator(double volts) {
        world.calibrator(volts);
    }

    /**
     * What an onlooker would see, without asking any instrument.
     *
     * @param loadCurrentA largest load current on any rail now, A
     * @param anyLoadInputOn whether the input of any load is on
     * @param lineLive whether mains reaches the unit
     * @param railsWereTied whether two rails ever were tied together through the relays of one load
     */
    public record Sight(double loadCurrentA, boolean anyLoadInputOn, boolean lineLive, boolean railsWereTied) {}

    /** Looks at the bench. */
    public synchronized Sight sight() {
        return new Sight(world.loadCurrentA(), unit.anyLoadInputOn(), world.lineLive(), world.railsWereTied());
    }

    /** The simulated load of that name, for fault campaigns. */
    public SimulatedLoad loadDevice(String name) {
        return unit.load(name);
    }

    /** The simulated line source, for fault campaigns. */
    public SimulatedLineSource lineDevice() {
        return unit.lineDevice();
    }

    /** The simulated board, for fault campaigns. */
    public SimulatedBoard boardDevice() {
        return board;
    }

    /** Lets time pass for all devices, as when nobody speaks to them. */
    public synchronized void bringTo(long toNs) {
        nowNs = Math.max(nowNs, toNs);
        board.advanceTo(nowNs, boardSpoke::add);
        world.advanceTo(nowNs / 1e9);
    }

    private void deliver(Consumer<byte[]> reply) {
        List<byte[]> spoken = List.copyOf(boardSpoke);
        boardSpoke.clear();
        spoken.forEach(reply);
    }

    /** What a device does with bytes. */
    @FunctionalInterface
    private interface Ear {
        void receive(byte[] bytes, Consumer<byte[]> reply);
    }

    private Peer talker(Ear ear) {
        return new Peer() {
            @Override
            public void receive(byte[] bytes, Consumer<byte[]> reply) {
                synchronized (SimulatedBench.this) {
                    ear.receive(bytes, reply);
                    world.advanceTo(nowNs / 1e9);
                }
            }

            @Override
            public void advanceTo(long toNs, Consumer<byte[]> reply) {
                bringTo(toNs);
            }
        };
    }
}

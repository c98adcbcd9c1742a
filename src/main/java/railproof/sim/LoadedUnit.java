package railproof.sim;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import railproof.sim.device.AnalogSource;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.LineRatings;
import railproof.sim.device.SimulatedLineSource;
import railproof.sim.device.SimulatedLoad;

/**
 * A simulated bench but for its board: the unit with its loads and its line source. Whatever board there is, simulated,
 * emulated or real, sees its terminals through {@link #terminals} and drives it through {@link #contacts}.
 *
 * <p>Time moves only through the terminals. Thread: confined to whoever drives the board.
 */
public final class LoadedUnit {
    private final Map<String, SimulatedLoad> loads = new LinkedHashMap<>();

    @Nullable
    private final SimulatedLineSource lineSource;

    private final SimulatedWorld world;

    /**
     * Everything off.
     *
     * @param plant the unit
     * @param plan how it is wired
     * @param handLineHz frequency of a hand-turned line, Hz
     */
    public LoadedUnit(Plant plant, BenchPlan plan, double handLineHz) {
        plan.loads().entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .forEach(entry -> loads.put(
                        entry.getKey(),
                        new SimulatedLoad(
                                entry.getValue().ratings(),
                                entry.getValue().accuracy(),
                                plan.seed() ^ entry.getKey().hashCode())));
        lineSource = plan.programmableLine() ? new SimulatedLineSource(LineRatings.IDEAL, plan.seed() ^ 0x11AE) : null;
        world = new SimulatedWorld(plant, plan, loads, lineSource, handLineHz);
    }

    /** What the board's inputs see. */
    public AnalogSource terminals() {
        return world;
    }

    /** What the board's outputs move. */
    public BoardOutputs contacts() {
        return world;
    }

    /** Says something to a load; to be brought to the present before. */
    public void tellLoad(String name, byte[] bytes, Consumer<byte[]> reply) {
        world.spokenTo();
        load(name).receive(bytes, reply);
    }

    /** Says something to the line source; to be brought to the present before. */
    public void tellLineSource(byte[] bytes, Consumer<byte[]> reply) {
        SimulatedLineSource device = lineDevice();
        world.spokenTo();
        device.receive(bytes, reply);
    }

    /** The line source. */
    SimulatedLineSource lineDevice() {
        if (lineSource == null) {
            throw new IllegalStateException("this bench's line is turned by hand");
        }
        return lineSource;
    }

    /** A load by its name in the rig file. */
    public SimulatedLoad load(String name) {
        SimulatedLoad load = loads.get(name);
        if (load == null) {
            throw new IllegalArgumentException("no load " + name + " on the simulated bench");
        }
        return load;
    }

    /** Whether the input of any load is on. */
    public boolean anyLoadInputOn() {
        return loads.values().stream().anyMatch(SimulatedLoad::inputOn);
    }

    SimulatedWorld world() {
        return world;
    }
}

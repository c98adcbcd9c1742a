package railproof.app;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.Profile;
import railproof.rig.file.ChannelConfig;
import railproof.rig.file.InputRange;
import railproof.rig.file.LineConfig;
import railproof.rig.file.LoadConfig;
import railproof.rig.file.Placement;
import railproof.rig.file.RigConfig;
import railproof.rig.file.RigFile;
import railproof.rig.file.SimulationConfig;
import railproof.run.Quantity;
import railproof.sim.BenchPlan;
import railproof.sim.Node;
import railproof.sim.Plant;
import railproof.sim.SimulatedBench;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.LoadAccuracy;
import railproof.sim.device.LoadRatings;
import railproof.sim.supply.Fault;
import railproof.sim.supply.PlacedFault;
import railproof.sim.supply.SimulatedUnits;
import railproof.sim.supply.Surroundings;

/**
 * Builds the simulated bench that a rig file describes: the unit, and around it instruments with errors drawn from the
 * uncertainties the file states, so that what the program says of its uncertainty can be held against the truth.
 */
public final class SimulationSetup {
    private final RigFile rig;
    private final RigConfig config;
    private final Profile profile;
    private final SimulationConfig simulation;
    private final String unitName;
    private final List<PlacedFault> faults;
    /** Where the fault was asked for, as a message names it. */
    private final String faultKey;

    private boolean fastForward;

    /**
     * Reads what is to be simulated.
     *
     * @param fault the fault to build in, in the simulator's words, empty for what the rig file says
     * @throws BadFileException if the rig file has no simulation, or unit or fault are unknown
     */
    public SimulationSetup(RigFile rig, Profile profile, String fault) throws BadFileException {
        this.rig = rig;
        this.config = rig.config();
        this.profile = profile;
        this.simulation =
                config.simulation().orElseThrow(() -> problem("simulation", "this rig file has no [simulation]"));
        this.unitName = simulation.unit().equals(SimulationConfig.AUTO) ? profile.id() : simulation.unit();
        if (!SimulatedUnits.names().contains(unitName)) {
            throw problem(
                    "simulation.unit",
                    "no simulated unit \"" + unitName + "\"; there are: " + String.join(", ", SimulatedUnits.names()));
        }
        String words = fault.isEmpty() ? simulation.fault().orElse("") : fault;
        faultKey = fault.isEmpty() ? "simulation.fault" : "--sim-fault";
        try {
            faults = words.isEmpty() ? List.of() : List.of(PlacedFault.parse(words));
        } catch (IllegalArgumentException e) {
            throw problem(faultKey, String.valueOf(e.getMessage()));
        }
    }

    private BadFileException problem(String key, String message) {
        return new BadFileException(List.of(new Problem(rig.source().name(), 0, 0, key, message)));
    }

    /** Names of all faults that can be built into a simulated unit. */
    public static List<String> faultNames() {
        return Fault.labels();
    }

    /** Which unit and fault, in words. */
    public String words() {
        String fault = faults.isEmpty()
                ? "no fault"
                : faults.get(0).fault().label()
                        + String.format(
                                java.util.Locale.ROOT,
                                ", severity %.2g",
                                faults.get(0).severityRatio());
        return "unit " + unitName + ", " + fault + ", seed " + simulation.noiseSeed();
    }

    /** Builds units that are not integrated while nothing happens to them: for burn-ins. */
    SimulationSetup fastForward() {
        fastForward = true;
        return this;
    }

    /** Builds it, everything off. */
    public SimulatedBench build() throws BadFileException {
        return build(List.of());
    }

    /**
     * Builds it with a calibrator on some channels, everything off.
     *
     * @param calibrated channels whose leads are on the calibrator instead of the unit
     */
    SimulatedBench build(List<ChannelConfig> calibrated) throws BadFileException {
        Parts parts = parts(calibrated);
        return new SimulatedBench(parts.plant, parts.plan, parts.handLineHz);
    }

    /**
     * What a simulated bench is made of.
     *
     * @param plant the unit
     * @param plan how it is wired
     * @param handLineHz frequency of a hand-turned line, Hz
     */
    record Parts(Plant plant, BenchPlan plan, double handLineHz) {}

    /**
     * The parts, not put together.
     *
     * @param calibrated channels whose leads are on the calibrator instead of the unit
     */
    Parts parts(List<ChannelConfig> calibrated) throws BadFileException {
        Plant plant;
        try {
            Surroundings surroundings = Surroundings.standard(simulation.noiseSeed());
            plant = fastForward
                    ? SimulatedUnits.named(unitName).buildFastForward(surroundings, faults)
                    : SimulatedUnits.named(unitName).build(surroundings, faults);
        } catch (IllegalArgumentException e) {
            throw problem(faultKey, String.valueOf(e.getMessage()));
        }
        List<Placement.Seat> seats = Placement.of(config, profile).seats();
        if (plant.railNames().size() < seats.size()) {
            throw problem(
                    "simulation.unit",
                    "unit \"" + unitName + "\" has " + plant.railNames().size() + " rails, profile " + profile.id()
                            + " has " + seats.size());
        }
        return new Parts(plant, plan(seats, calibrated), profile.line().frequencyHz());
    }

    private BenchPlan plan(List<Placement.Seat> seats, List<ChannelConfig> calibrated) {
        Map<Integer, BenchPlan.Tap> taps = new HashMap<>();
        config.line().channel().ifPresent(channel -> taps.put(channel.input(), new BenchPlan.LineTap()));
        Map<String, BenchPlan.LoadPlan> loads = new HashMap<>();
        Map<String, List<BenchPlan.Way>> ways = new HashMap<>();
        for (int rail = 0; rail < seats.size(); rail++) {
            Placement.Seat seat = seats.get(rail);
            for (Map.Entry<Quantity, ChannelConfig> entry :
                    seat.position().channels().entrySet()) {
                taps.put(entry.getValue().input(), tap(rail, entry.getKey()));
            }
            int relay = seat.position().loadRelay().map(bit -> 1 << bit).orElse(0);
            List<BenchPlan.Way> here = ways.computeIfAbsent(seat.position().load(), name -> new ArrayList<>());
            // without relays, the leads of a load that several rails share begin on the first and are moved from there
            if (here.isEmpty() || relay != 0) {
                here.add(new BenchPlan.Way(rail, relay));
            }
        }
        for (LoadConfig load : config.loads()) {
            loads.put(load.name(), loadPlan(load, ways.getOrDefault(load.name(), List.of())));
        }
        calibrated.forEach(channel -> taps.put(channel.input(), new BenchPlan.CalibratorTap()));
        return new BenchPlan(
                taps,
                converters(),
                loads,
                config.board().lineRelay().map(bit -> 1 << bit).orElse(0),
                config.line().feed() instanceof LineConfig.Programmable,
                simulation.noiseSeed(),
                new BenchPlan.Flaws(
                        simulation.boardClockErrorRatio(), Math.min(Math.sqrt(2), simulation.mainsCrestRatio())));
    }

    private static BenchPlan.Tap tap(int rail, Quantity quantity) {
        return switch (quantity) {
            case OUTPUT, RIPPLE_PP, RIPPLE_RMS, LOAD_CURRENT -> new BenchPlan.NodeTap(rail, Node.OUTPUT);
            case LINE, LINE_FREQUENCY -> new BenchPlan.LineTap();
            case RAW, RAW_RIPPLE_PP -> new BenchPlan.NodeTap(rail, Node.RAW);
            case BASE -> new BenchPlan.NodeTap(rail, Node.BASE);
            case REFERENCE -> new BenchPlan.NodeTap(rail, Node.REFERENCE);
            case SENSE_TAP -> new BenchPlan.NodeTap(rail, Node.SENSE_TAP);
            case HEAT_SINK -> new BenchPlan.HeatSinkTap(rail);
            case LINE_CURRENT, TRANSIENT_TIME, UNDERSHOOT, OVERSHOOT, RINGING, LINE_PHASE, LOADED_TIME ->
                throw new IllegalStateException("the rig reader let a channel on " + quantity + " through");
        };
    }

    /**
     * Errors as large as the rig file says they may be: drawn once for each instrument by its name, so that it keeps
     * them from run to run and whatever unit is on the bench, as a real one does.
     */
    private Random errors(String instrument) {
        return new Random(simulation.noiseSeed() * 31 + instrument.hashCode());
    }

    private BenchPlan.LoadPlan loadPlan(LoadConfig load, List<BenchPlan.Way> ways) {
        Random errors = errors(load.name());
        double gain = load.currentGainURatio() * errors.nextGaussian();
        double offsetA = load.currentOffsetUA() * errors.nextGaussian();
        LoadRatings ratings = new LoadRatings(
                load.maxCurrentA(),
                load.maxVoltageV(),
                load.maxPowerW(),
                load.minOperatingV(),
                LoadRatings.BENCH.maxOhm(),
                LoadRatings.BENCH.riseS(),
                LoadRatings.BENCH.lagS(),
                LoadRatings.BENCH.protectionDelayS(),
                LoadRatings.BENCH.inputF());
        LoadAccuracy accuracy = new LoadAccuracy(
                LoadAccuracy.ORDINARY.meterGainVRatio(),
                LoadAccuracy.ORDINARY.meterOffsetV(),
                LoadAccuracy.ORDINARY.meterNoiseV(),
                gain,
                offsetA,
                load.currentResolutionA() / 3,
                gain / 2,
                offsetA);
        return new BenchPlan.LoadPlan(ways, ratings, accuracy, config.safety().leadResistanceOhm());
    }

    private List<AdcChannel> converters() {
        Map<Integer, ChannelConfig> byInput = new HashMap<>();
        config.board().channels().forEach(channel -> byInput.put(channel.input(), channel));
        List<AdcChannel> converters = new ArrayList<>();
        for (int input = 0; input < config.board().inputsNeeded(); input++) {
            ChannelConfig channel = byInput.get(input);
            converters.add(channel == null ? AdcChannel.ideal("unused", -10, 10) : converter(channel));
        }
        return converters;
    }

    AdcChannel converter(ChannelConfig channel) {
        InputRange range = channel.range();
        Random errors = errors(channel.name());
        double spanV = range.fullScaleDimensionless() - range.zeroDimensionless();
        String name = channel.name().length() > 12 ? channel.name().substring(0, 12) : channel.name();
        return new AdcChannel(
                name,
                range.zeroDimensionless() - spanV,
                range.zeroDimensionless() + spanV,
                range.gainURatio() * errors.nextGaussian(),
                range.offsetUDimensionless() * errors.nextGaussian(),
                range.noiseRmsDimensionless(),
                20_000);
    }
}

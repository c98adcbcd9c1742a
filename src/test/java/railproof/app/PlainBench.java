package railproof.app;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import railproof.base.BadFileException;
import railproof.profile.Profile;
import railproof.profile.ProfileFile;
import railproof.rig.Operator;
import railproof.rig.file.RigFile;
import railproof.run.Stage;
import railproof.sim.BenchClock;
import railproof.sim.BenchPlan;
import railproof.sim.Node;
import railproof.sim.SimulatedBench;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.LoadAccuracy;
import railproof.sim.device.LoadRatings;
import railproof.wire.Link;

/** A whole rig around the plain unit: one board, one load, one line source, real protocols, virtual time. */
final class PlainBench {
    static final String RIG =
            """
            name = "plain-bench"
            title = "Plain bench for tests"
            [links]
            board = { kind = "memory" }
            load = { kind = "memory" }
            line = { kind = "memory" }
            [board]
            link = "board"
            heartbeat_timeout_ms = 500
            line_relay = 0
            [line]
            kind = "programmable"
            link = "line"
            dialect = "standard"
            channel = "line"
            min_V = 0
            max_V = 270
            min_frequency_Hz = 45
            max_frequency_Hz = 66
            settle_ms = 100
            [loads.load]
            link = "load"
            dialect = "standard"
            max_current_A = 10
            max_voltage_V = 60
            max_power_W = 100
            min_operating_V = 0.5
            current_resolution_A = 0.0005
            current_gain_u_pct = 0.05
            current_offset_u_A = 0.0005
            [ranges.mains]
            full_scale_V = 500
            gain_u_pct = 0.1
            offset_u_V = 0.1
            noise_rms_V = 0.05
            nonlinearity_u_pct = 0.01
            [ranges.out]
            full_scale_V = 10
            gain_u_pct = 0.02
            offset_u_V = 0.0005
            noise_rms_V = 0.0002
            nonlinearity_u_pct = 0.002
            [channels]
            line = { input = 0, range = "mains" }
            output = { input = 1, range = "out" }
            [[positions]]
            name = "A"
            load = "load"
            output = "output"
            [safety]
            max_output_V = 60
            max_power_W = 100
            lead_resistance_Ohm = 0.01
            [simulation]
            unit = "auto"
            noise_seed = 1
            """;

    static final String PROFILE =
            """
            id = "plain-5v"
            title = "Plain 5 V 2 A rail"
            decision_rule = "simple-acceptance"
            [line]
            nominal_V = 115
            low_V = 103.5
            high_V = 126.5
            frequency_Hz = 60
            [plan]
            load_fractions = [0, 0.5, 1]
            line_cycles = 3
            settle_band_pct = 0.1
            settle_timeout_s = 3
            limit_step_pct = 10
            limit_dwell_ms = 100
            limit_cool_down_s = 0.5
            [[rails]]
            name = "+5 V"
            nominal_V = 5
            rated_current_A = 2
            over_voltage_V = 6.5
            limit_shape = "constant-current"
            max_probe_current_A = 3
            [rails.limits]
            output_V = [4.85, 5.15]
            load_regulation = { max_pct = 1.5, of = "full-load" }
            line_regulation = { max_pct = 1, of = "nominal" }
            ripple_pp_max_V = 0.02
            current_limit_A = [2.2, 3]
            short_circuit_A = [2, 3]
            """;

    final SimulatedBench bench;
    final BenchClock clock;
    private final RigFile rig;
    private final ProfileFile profile;

    PlainBench() throws BadFileException {
        this(RigFile.parse("plain-bench.toml", RIG));
    }

    static Profile profile() throws BadFileException {
        return ProfileFile.parse("plain-5v.toml", PROFILE).profile();
    }

    PlainBench(RigFile rig) throws BadFileException {
        this.rig = rig;
        profile = ProfileFile.parse("plain-5v.toml", PROFILE);
        bench = new SimulatedBench(
                new PlainUnit(),
                new BenchPlan(
                        Map.of(0, new BenchPlan.LineTap(), 1, new BenchPlan.NodeTap(0, Node.OUTPUT)),
                        List.of(
                                new AdcChannel("line", -500, 500, 0, 0, 0.05, 0),
                                new AdcChannel("output", -10, 10, 0, 0, 0.0002, 0)),
                        Map.of(
                                "load",
                                new BenchPlan.LoadPlan(
                                        0,
                                        0,
                                        new LoadRatings(10, 60, 100, 0.5, 50_000, 200e-6, 100e-6, 1e-3, 0),
                                        LoadAccuracy.IDEAL)),
                        1,
                        true,
                        1),
                60);
        clock = new BenchClock(bench, Instant.parse("2026-01-05T08:00:00Z"));
    }

    /** A run whose links pass through {@code wrapping}. */
    RunService service(Path data, UnaryOperator<Link> wrapping) throws BadFileException {
        RunRequest request = new RunRequest(rig, profile, "PB-0001", Stage.AS_LEFT, "", data, Optional.empty(), false);
        LinkOpener memory = Benches.memoryLinks(bench, rig.config());
        BenchAccess access = new BenchAccess(
                clock, (link, with) -> wrapping.apply(memory.open(link, with)), true, "plain unit, no fault");
        return new RunService(request, access);
    }

    /** Runs to the end with nobody at the keyboard. */
    RunResult run(Path data, UnaryOperator<Link> wrapping) throws Exception {
        return service(data, wrapping).run(Operator.nobody(), event -> {});
    }

    /** What an onlooker sees a second after the run: time enough for the board's own heartbeat to have tripped. */
    SimulatedBench.Sight sightLater() {
        bench.bringTo(clock.nowNs() + 1_000_000_000L);
        return bench.sight();
    }
}

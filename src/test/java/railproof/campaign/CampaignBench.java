package railproof.campaign;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import railproof.base.BadFileException;
import railproof.profile.ProfileFile;
import railproof.rig.file.RigFile;
import railproof.sim.BenchClock;
import railproof.sim.BenchPlan;
import railproof.sim.Node;
import railproof.sim.SimulatedBench;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.LoadAccuracy;
import railproof.sim.device.LoadRatings;

/** Board, two loads, line source and line relay around the {@link CampaignUnit}, in virtual time. */
final class CampaignBench {
    /** Board inputs. */
    static final int LINE_INPUT = 0;

    static final int OUTPUT_INPUT = 1;

    private static final String LOAD =
            """
            [loads.%1$s]
            link = "%1$s"
            dialect = "standard"
            max_current_A = 10
            max_voltage_V = 150
            max_power_W = 100
            min_operating_V = 0.5
            current_resolution_A = 0.0005
            current_gain_u_pct = 0.05
            current_offset_u_A = 0.0002
            """;

    private static final String RIG =
            """
            name = "campaign-bench"
            title = "Bench for fault campaigns"
            [links]
            board = { kind = "memory" }
            load-1 = { kind = "memory" }
            load-2 = { kind = "memory" }
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
            """
                    + LOAD.formatted("load-1")
                    + LOAD.formatted("load-2")
                    + """
            [ranges.mains]
            full_scale_V = 500
            gain_u_pct = 0.1
            offset_u_V = 0.1
            noise_rms_V = 0.05
            nonlinearity_u_pct = 0.01
            [ranges.low]
            full_scale_V = 10
            gain_u_pct = 0.02
            offset_u_V = 0.0005
            noise_rms_V = 0.0002
            nonlinearity_u_pct = 0.002
            [ranges.high]
            full_scale_V = 150
            gain_u_pct = 0.02
            offset_u_V = 0.005
            noise_rms_V = 0.003
            nonlinearity_u_pct = 0.002
            [channels]
            line = { input = 0, range = "mains" }
            output-1 = { input = 1, range = "low" }
            output-2 = { input = 2, range = "high" }
            [[positions]]
            name = "A"
            load = "load-1"
            output = "output-1"
            [[positions]]
            name = "B"
            load = "load-2"
            output = "output-2"
            [[interlocks]]
            name = "red button"
            input = 0
            emergency_stop = true
            [safety]
            max_output_V = 150
            max_power_W = 200
            lead_resistance_Ohm = 0.01
            [simulation]
            unit = "auto"
            noise_seed = 1
            """;

    private static final String PROFILE =
            """
            id = "campaign-unit"
            title = "5 V and 90 V"
            decision_rule = "simple-acceptance"
            cautions = ["The upper rail is hazardous live."]
            [line]
            nominal_V = 115
            low_V = 103.5
            high_V = 126.5
            frequency_Hz = 60
            [plan]
            %s
            load_fractions = [0, 0.5, 1]
            line_cycles = 2
            settle_band_pct = 0.2
            settle_timeout_s = 1
            limit_step_pct = 20
            limit_dwell_ms = 60
            limit_cool_down_s = 0.2
            load_step = { low_pct = 10, high_pct = 90, band_pct = 2, record_ms = 40 }
            hold_up = { record_ms = 100, phases = 1 }
            start_up = { record_ms = 100, off_s = 0.5 }
            first_power_up = { line_fractions = [0.5, 1] }
            [plan.burn_in]
            hours = 0.01
            load_pct = 90
            cold_starts = 1
            off_s = 1
            sample_every_s = 5
            reading_every_s = 15
            hot_after_s = 5
            cool_s = 5
            [[rails]]
            name = "+5 V"
            nominal_V = 5
            rated_current_A = 2
            over_voltage_V = 6.5
            limit_shape = "constant-current"
            max_probe_current_A = 3
            [rails.limits]
            output_V = [4.85, 5.15]
            [[rails]]
            name = "+90 V"
            nominal_V = 90
            rated_current_A = 0.2
            over_voltage_V = 110
            limit_shape = "constant-current"
            max_probe_current_A = 0.3
            [rails.limits]
            output_V = [87, 93]
            """;

    final SimulatedBench bench;
    final BenchClock clock;

    CampaignBench() {
        bench = new SimulatedBench(new CampaignUnit(), plan(), 60);
        clock = new BenchClock(bench, Instant.parse("2026-01-05T08:00:00Z"));
    }

    private static BenchPlan plan() {
        LoadRatings ratings = new LoadRatings(10, 150, 100, 0.5, 50_000, 200e-6, 100e-6, 1e-3, 0);
        return new BenchPlan(
                Map.of(
                        LINE_INPUT,
                        new BenchPlan.LineTap(),
                        OUTPUT_INPUT,
                        new BenchPlan.NodeTap(0, Node.OUTPUT),
                        2,
                        new BenchPlan.NodeTap(1, Node.OUTPUT)),
                List.of(
                        new AdcChannel("line", -500, 500, 0, 0, 0.05, 0),
                        new AdcChannel("output-1", -10, 10, 0, 0, 0.0002, 0),
                        new AdcChannel("output-2", -150, 150, 0, 0, 0.003, 0)),
                Map.of(
                        "load-1",
                        new BenchPlan.LoadPlan(0, 0, ratings, LoadAccuracy.IDEAL),
                        "load-2",
                        new BenchPlan.LoadPlan(1, 0, ratings, LoadAccuracy.IDEAL)),
                1,
                true,
                1);
    }

    static RigFile rig() throws BadFileException {
        return RigFile.parse("campaign-bench.toml", RIG);
    }

    /** A profile with one procedure, or as it comes for a burn-in. */
    static ProfileFile profile(String procedure) throws BadFileException {
        String procedures = procedure.equals(FaultCampaign.BURN_IN) ? "" : "procedures = [\"" + procedure + "\"]";
        return ProfileFile.parse("campaign-unit.toml", PROFILE.formatted(procedures));
    }

    /** What an onlooker sees when the devices had time to notice by themselves that nobody speaks to them. */
    SimulatedBench.Sight sightLater() {
        bench.bringTo(clock.nowNs() + 1_000_000_000L);
        return bench.sight();
    }
}

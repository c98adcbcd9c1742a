package railproof.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.BadFileException;
import railproof.base.Problem;

class ProfileFileTest {
    /** Line numbers of the expected messages count in this text. */
    private static final String GOOD =
            """
            id = "pair"
            title = "A pair"
            decision_rule = "guard-band"
            cautions = ["Isolated loads."]
            [line]
            nominal_V = 115
            low_V = 103.5
            high_V = 126.5
            frequency_Hz = 60
            [plan]
            load_fractions = [0, 0.5, 1]
            line_cycles = 5
            settle_band_pct = 0.05
            settle_timeout_s = 7.5
            limit_step_pct = 4
            limit_dwell_ms = 250
            limit_cool_down_s = 2
            [[rails]]
            name = "+5 V"
            nominal_V = 5
            rated_current_A = 8
            minimum_load_A = 0.1
            over_voltage_V = 6.5
            limit_shape = "foldback"
            max_probe_current_A = 12
            [rails.limits]
            output_V = [4.85, 5.15]
            load_regulation = { max_pct = 1.5, of = "full-load" }
            line_regulation = { max_V = 0.05 }
            ripple_pp_max_V = 0.04
            ripple_rms_max_V = 0.012
            current_limit_A = [9.2, 11.2]
            short_circuit_A = [1.5, 6.5]
            [[rails]]
            name = "-12 V"
            nominal_V = -12
            rated_current_A = 1
            over_voltage_V = 14
            limit_shape = "none"
            max_probe_current_A = 2
            limits.output_V = [-12.6, -11.4]
            """;

    @Test
    void readsEveryValueInSiUnits() throws BadFileException {
        ProfileFile file = ProfileFile.parse("pair.toml", GOOD);

        Rail plus = new Rail(
                "+5 V",
                5,
                8,
                0.1,
                6.5,
                LimitShape.FOLDBACK,
                12,
                new RailLimits(
                        new Band(4.85, 5.15),
                        Optional.of(new RegulationLimit(0.015, Convention.OF_FULL_LOAD)),
                        Optional.of(new RegulationLimit(0.05, Convention.IN_VOLTS)),
                        Optional.of(0.04),
                        Optional.of(0.012),
                        Optional.of(new Band(9.2, 11.2)),
                        Optional.of(new Band(1.5, 6.5)),
                        DynamicLimits.NONE),
                Optional.empty());
        RailLimits outputOnly = new RailLimits(
                new Band(-12.6, -11.4),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                DynamicLimits.NONE);
        Rail minus = new Rail("-12 V", -12, 1, 0, 14, LimitShape.NONE, 2, outputOnly, Optional.empty());
        Plan plan = new Plan(
                List.of(0.0, 0.5, 1.0),
                5,
                5e-4,
                Duration.ofMillis(7500),
                0.04,
                Duration.ofMillis(250),
                Duration.ofSeconds(2),
                Program.DEFAULT,
                BurnInPlan.DEFAULT);
        assertEquals(
                new Profile(
                        "pair",
                        "A pair",
                        List.of(plus, minus),
                        new LineRating(115, 103.5, 126.5, 60),
                        plan,
                        DecisionRule.GUARD_BAND,
                        List.of("Isolated loads."),
                        Map.of()),
                file.profile());
        assertEquals(SourceText.of("pair.toml", GOOD), file.source());
    }

    @Test
    void readsTheFileItIsGiven(@TempDir Path folder) throws IOException, BadFileException {
        Path file = Files.writeString(folder.resolve("pair.toml"), GOOD);

        assertEquals(GOOD, ProfileFile.read(file).source().text());
        assertEquals(file.toString(), ProfileFile.read(file).source().name());
    }

    @Test
    void planHasDefaults() throws BadFileException {
        String without = GOOD.substring(0, GOOD.indexOf("[plan]")) + GOOD.substring(GOOD.indexOf("[[rails]]"));

        Plan plan = ProfileFile.parse("pair.toml", without).profile().plan();

        assertEquals(11, plan.loadFractions().size());
        assertTrue(plan.limitDwell().compareTo(Duration.ofSeconds(1)) < 0, "dwell beyond the rating stays under 1 s");
    }

    /** Every rule that compares values, one mistake each: the exact message, with its place. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "low_V = 103.5 | low_V = 116 | 7:1: line.low_V: 116 is above the nominal line, 115",
                "high_V = 126.5 | high_V = 114 | 8:1: line.high_V: 114 is below the nominal line, 115",
                "[0, 0.5, 1] | [0, 0.5, 0.5, 1] | 11:1: plan.load_fractions: must start at 0, end at 1 and rise from each to the next; found [0.0, 0.5, 0.5, 1.0]",
                "[0, 0.5, 1] | [0.1, 0.5, 1] | 11:1: plan.load_fractions: must start at 0, end at 1 and rise from each to the next; found [0.1, 0.5, 1.0]",
                "[0, 0.5, 1] | [0, 0.5, 0.9] | 11:1: plan.load_fractions: must start at 0, end at 1 and rise from each to the next; found [0.0, 0.5, 0.9]",
                "minimum_load_A = 0.1 | minimum_load_A = 8 | 22:1: rails[1].minimum_load_A: 8 is not below rated_current_A, 8",
                "max_probe_current_A = 2 | max_probe_current_A = 1 | 40:1: rails[2].max_probe_current_A: 1 is not above rated_current_A, 1",
                "over_voltage_V = 6.5 | over_voltage_V = 5.15 | 23:1: rails[1].over_voltage_V: 5.15 is not beyond the allowed output, 5.15 (a magnitude, also for a negative rail)",
                "over_voltage_V = 14 | over_voltage_V = 12.5 | 38:1: rails[2].over_voltage_V: 12.5 is not beyond the allowed output, 12.6 (a magnitude, also for a negative rail)",
                "[4.85, 5.15] | [5.05, 5.15] | 27:1: rails[1].limits.output_V: 5.05 to 5.15 does not contain nominal_V, 5",
                "[-12.6, -11.4] | [-11.4, -12.6] | 41:1: rails[2].limits.output_V: the lowest comes first; found -11.4 before -12.6",
                "[-12.6, -11.4] | [11.4, 12.6] | 41:1: rails[2].limits.output_V: 11.4 to 12.6 does not contain nominal_V, -12",
                "nominal_V = 5 | nominal_V = 0.4 | 20:1: rails[1].nominal_V: 0.4 is too small; the magnitude must be 0.5 to 1000",
                "ripple_rms_max_V = 0.012 | ripple_rms_max_V = 0.05 | 31:1: rails[1].limits.ripple_rms_max_V: 0.05 is above the peak-to-peak limit, 0.04; no waveform can be so",
                "[9.2, 11.2] | [7.9, 11.2] | 32:1: rails[1].limits.current_limit_A: 7.9 is below rated_current_A, 8: full load could be limited",
                "[9.2, 11.2] | [9.2, 12.5] | 32:1: rails[1].limits.current_limit_A: 12.5 is above max_probe_current_A, 12: the search would never get there",
                "[1.5, 6.5] | [1.5, 11.2] | 33:1: rails[1].limits.short_circuit_A: 11.2 is not below the current limit, 11.2; a foldback rail gives less into a short",
                "foldback | none | 32:1: rails[1].limits.current_limit_A: a rail with limit_shape \"none\" has no current limit to judge",
                "{ max_V = 0.05 } | { max_V = 0.05, of = \"nominal\" } | 29:35: rails[1].limits.line_regulation.of: belongs to max_pct; a limit in volts is of nothing",
                "{ max_V = 0.05 } | { max_V = 0.05, max_pct = 1 } | 29:1: rails[1].limits.line_regulation: needs either max_pct, with of, or max_V",
                "{ max_V = 0.05 } | {} | 29:1: rails[1].limits.line_regulation: needs either max_pct, with of, or max_V",
                "name = \"-12 V\" | name = \"+5 V\" | 35:1: rails[2].name: another rail is called \"+5 V\" already",
                "id = \"pair\" | id = \"Pair 1\" | 1:1: id: may have small letters, digits, '-' and '.' only, at most 60; found \"Pair 1\"",
                "limits.output_V = [-12.6, -11.4] | limits.ripple_pp_max_V = 1 | 41:1: rails[2].limits.output_V: is missing; it must be a list of two numbers, lowest and highest",
                "guard-band | gard-band | 3:1: decision_rule: \"gard-band\" is not one of simple-acceptance, guard-band, non-binary; did you mean \"guard-band\"?",
                "foldback | fold-back | 24:1: rails[1].limit_shape: \"fold-back\" is not one of constant-current, foldback, latching, none; did you mean \"foldback\"?",
                "full-load | ful-load | 28:36: rails[1].limits.load_regulation.of: \"ful-load\" is not one of full-load, no-load, nominal; did you mean \"full-load\"?",
            })
    void valuesThatContradictEachOtherAreNamedWithTheirPlace(String right, String wrong, String expected) {
        assertTrue(GOOD.contains(right));

        assertEquals(
                List.of("pair.toml:" + expected),
                problems(GOOD.replaceFirst(java.util.regex.Pattern.quote(right), wrong)));
    }

    @Test
    void railAboveSixtyVoltsWantsCautions() {
        String hazardous = GOOD.replace("over_voltage_V = 14", "over_voltage_V = 60.5");

        assertEquals(
                List.of("pair.toml:4:1: cautions: at least one caution is wanted, because -12 V can exceed 60 V d.c."
                        + " (over_voltage_V): say what the technician must know"),
                problems(hazardous.replace("[\"Isolated loads.\"]", "[]")));
        assertEquals(
                List.of("pair.toml: cautions: at least one caution is wanted, because -12 V can exceed 60 V d.c."
                        + " (over_voltage_V): say what the technician must know"),
                problems(hazardous.replace("cautions = [\"Isolated loads.\"]", "")));
    }

    @Test
    void allProblemsAreReportedInFileOrder() {
        String bad = GOOD.replace("nominal_V = 115", "nominl_V = 115")
                .replace("line_cycles = 5", "line_cycles = 1")
                .replace("rated_current_A = 8", "rated_current_A = \"8\"")
                .replace("limit_shape = \"none\"", "");

        assertEquals(
                List.of(
                        "pair.toml:5:1: line.nominal_V: is missing; it must be a number from 24 to 440",
                        "pair.toml:6:1: line.nominl_V: unknown key; did you mean \"nominal_V\"?",
                        "pair.toml:12:1: plan.line_cycles: must be a whole number from 2 to 100; found the number 1",
                        "pair.toml:21:1: rails[1].rated_current_A: must be a number from 1e-6 to 1000; found the text"
                                + " \"8\"",
                        "pair.toml:34:1: rails[2].limit_shape: is missing; it must be one of constant-current, foldback,"
                                + " latching, none"),
                problems(bad));
    }

    @Test
    void emptyFileSaysWhatIsMissing() {
        assertEquals(
                List.of(
                        "pair.toml: id: is missing; it must be a text",
                        "pair.toml: title: is missing; it must be a text",
                        "pair.toml: decision_rule: is missing; it must be one of simple-acceptance, guard-band, non-binary",
                        "pair.toml: line: is missing; it must be a table",
                        "pair.toml: rails: is missing; it must be a list of tables ([[rails]])"),
                problems(""));
    }

    private static List<String> problems(String text) {
        BadFileException bad = assertThrows(BadFileException.class, () -> ProfileFile.parse("pair.toml", text));
        return bad.problems().stream().map(Problem::text).toList();
    }

    @Test
    void readsWhichProceduresAreRunAndTheirSettings() throws BadFileException {
        String text = GOOD.replace(
                        "[plan]",
                        """
                        [plan]
                        procedures = ["load-step", "hold-up", "first-power-up"]
                        sweep_back = true
                        others_load_pct = 20
                        sum_power_max_W = 60
                        line_load_fractions = [0.5, 1]
                        dropout_fall_pct = 1
                        first_power_up = { line_fractions = [0.5, 1], line_current_max_A = 0.4 }
                        load_step = { low_pct = 20, high_pct = 80, band_pct = 2, record_ms = 50 }
                        start_up = { record_ms = 700, off_s = 3 }
                        hold_up = { record_ms = 300, phases = 4 }
                        """)
                .replace(
                        "limits.output_V = [-12.6, -11.4]",
                        "limits.output_V = [-12.6, -11.4]\nlimits.recovery_max_ms = 5");

        Profile profile = ProfileFile.parse("pair.toml", text).profile();
        Program program = profile.plan().program();

        assertEquals(
                java.util.Set.of(Procedure.LOAD_STEP, Procedure.HOLD_UP, Procedure.FIRST_POWER_UP),
                program.procedures());
        assertTrue(program.sweepBack());
        assertEquals(0.2, program.othersLoadRatio());
        assertEquals(60, program.sumPowerMaxW().orElseThrow());
        assertEquals(List.of(0.5, 1.0), program.lineLoadFractions());
        assertEquals(0.01, program.dropoutRatio());
        assertEquals(0.4, program.first().lineCurrentMaxA().orElseThrow());
        assertEquals(new Program.StepPlan(0.2, 0.8, 0.02, Duration.ofMillis(50)), program.step());
        assertEquals(new Program.StartPlan(Duration.ofMillis(700), Duration.ofSeconds(3)), program.start());
        assertEquals(new Program.HoldUpPlan(Duration.ofMillis(300), 4), program.holdUp());
        assertEquals(
                0.005, profile.rail("-12 V").limits().dynamic().recoveryMaxS().orElseThrow());
    }

    @Test
    void refusesProceduresAndSettingsThatCannotBe() {
        String text = GOOD.replace(
                        "[plan]",
                        """
                        [plan]
                        procedures = ["load-stap", "hold-up", "hold-up"]
                        line_load_fractions = [0.5, 0.4]
                        load_step = { low_pct = 80, high_pct = 20 }
                        """)
                .replace(
                        "limits.output_V = [-12.6, -11.4]",
                        "limits.output_V = [-12.6, -11.4]\nlimits.recovery_max_ms = 5");

        BadFileException bad = org.junit.jupiter.api.Assertions.assertThrows(
                BadFileException.class, () -> ProfileFile.parse("pair.toml", text));
        String all = String.join(
                "\n", bad.problems().stream().map(railproof.base.Problem::text).toList());

        assertTrue(all.contains("\"load-stap\" is no procedure; there are: first-power-up, load-sweep"), all);
        assertTrue(all.contains("\"hold-up\" stands twice"), all);
        assertTrue(
                all.contains("line_load_fractions: must start above 0, rise from each to the next and end at 1"), all);
        assertTrue(all.contains("the lower level, 80, is not below the upper, 20"), all);
        assertTrue(all.contains("recovery_max_ms: needs \"load-step\" in plan.procedures"), all);
    }

    private static String withParts(String lines) {
        return GOOD + "\n[rails.parts]\n" + lines;
    }

    @Test
    void aListOfPartsNamesEverythingThatIsMissingOrWrongInIt() {
        BadFileException bad = assertThrows(
                BadFileException.class,
                () -> ProfileFile.parse(
                        "pair.toml",
                        withParts(
                                """
                                rectifier = "bridges"
                                secondary_V = -3
                                reservoir_uf = 6800
                                winding_tolerance_pct = 0
                                """)));

        String said = String.valueOf(bad.getMessage());
        assertTrue(said.contains("rails[2].parts.rectifier"), said);
        assertTrue(
                said.contains("rails[2].parts.secondary_V: must be a number from 1 to 1000; found the number -3"),
                said);
        assertTrue(said.contains("rails[2].parts.reservoir_uF: is missing"), said);
        assertTrue(said.contains("reservoir_uf: unknown key; did you mean \"reservoir_uF\"?"), said);
        assertTrue(said.contains("winding_tolerance_pct"), said);
    }

    @Test
    void partValuesAreReadInSiUnitsWithTheirTolerances() throws BadFileException {
        ProfileFile file = ProfileFile.read(java.nio.file.Path.of("rigs/profiles/bench-12v.toml"));

        PartList parts = file.profile().rails().get(0).parts().orElseThrow();

        assertEquals(6800e-6, parts.nominal(PartValue.RESERVOIR), 1e-12);
        assertEquals(0.2, parts.of(PartValue.RESERVOIR).toleranceRatio(), 1e-12);
        assertEquals(RectifierKind.BRIDGE, parts.rectifier());
    }
}

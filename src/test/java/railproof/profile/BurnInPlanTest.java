package railproof.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.BadFileException;

/** The table {@code [plan.burn_in]}. */
class BurnInPlanTest {
    private static final String HEAD =
            """
            id = "one"
            title = "One rail"
            decision_rule = "guard-band"
            [line]
            nominal_V = 115
            low_V = 103.5
            high_V = 126.5
            frequency_Hz = 60
            """;
    private static final String RAIL =
            """
            [[rails]]
            name = "+5 V"
            nominal_V = 5
            rated_current_A = 8
            over_voltage_V = 6.5
            limit_shape = "foldback"
            max_probe_current_A = 12
            [rails.limits]
            output_V = [4.85, 5.15]
            """;

    private static BurnInPlan plan(String table) throws BadFileException {
        return ProfileFile.parse("one.toml", HEAD + table + RAIL)
                .profile()
                .plan()
                .burnIn();
    }

    @Test
    void whatAProfileDoesNotSayIsCommonPractice() throws BadFileException {
        assertEquals(BurnInPlan.DEFAULT, plan(""));
        assertEquals(BurnInPlan.DEFAULT, plan("[plan]\n"));
        assertEquals(BurnInPlan.DEFAULT, plan("[plan.burn_in]\n"));
    }

    @Test
    void everyKeyIsRead() throws BadFileException {
        BurnInPlan plan = plan(
                """
                [plan.burn_in]
                hours = 8
                load_pct = 100
                cold_starts = 2
                off_s = 120
                sample_every_s = 5
                reading_every_s = 300
                hot_after_s = 900
                cool_s = 600
                drift_max_pct = 0.5
                ripple_growth_max_ratio = 1.5
                heat_sink_max_C = 85
                warn_ratio = 0.8
                """);
        assertEquals(
                new BurnInPlan(
                        Duration.ofHours(8),
                        1,
                        2,
                        Duration.ofMinutes(2),
                        Duration.ofSeconds(5),
                        Duration.ofMinutes(5),
                        Duration.ofMinutes(15),
                        Duration.ofMinutes(10),
                        0.005,
                        1.5,
                        Optional.of(85.0),
                        0.8),
                plan);
    }

    @Test
    void aUnitIsHotAfterHalfAStretchAtTheLatest() {
        BurnInPlan short2 = BurnInPlan.DEFAULT.lasting(Duration.ofMinutes(40));
        assertEquals(Duration.ofMinutes(10), short2.stretch());
        assertEquals(Duration.ofMinutes(5), short2.hot());
        assertEquals(Duration.ofMinutes(30), BurnInPlan.DEFAULT.hot());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "hours = 0 | one.toml:10:1: plan.burn_in.hours: must be a number from 0.01 to 168; found the number 0",
                "hours = 169 | one.toml:10:1: plan.burn_in.hours: must be a number from 0.01 to 168; found the number 169",
                "load_pct = 101 | one.toml:10:1: plan.burn_in.load_pct: must be a number from 10 to 100; found the number 101",
                "cold_starts = 25 | one.toml:10:1: plan.burn_in.cold_starts: must be a whole number from 0 to 24; found the number 25",
                "reading_every_s = 10 \\nsample_every_s = 20 | is less than sample_every_s, 20",
                "ripple_growth_max_ratio = 1 | plan.burn_in.ripple_growth_max_ratio",
                "warn_ratio = 1.1 | plan.burn_in.warn_ratio",
                "heat_sink_max_C = 20 | plan.burn_in.heat_sink_max_C",
                "hour = 3 | plan.burn_in.hour"
            })
    void badValuesAreRefusedWithTheirPlace(String line, String words) {
        BadFileException e =
                assertThrows(BadFileException.class, () -> plan("[plan.burn_in]\n" + line.replace("\\n", "\n") + "\n"));
        assertEquals(1, e.problems().size());
        assertTrue(
                e.problems().get(0).text().contains(words), e.problems().get(0).text());
    }
}

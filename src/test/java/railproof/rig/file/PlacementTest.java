package railproof.rig.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.Profile;
import railproof.profile.ProfileFile;

class PlacementTest {
    @ParameterizedTest
    @MethodSource("railproof.rig.file.BuiltInFiles#profileNames")
    void simulatedBenchTakesEveryShippedProfile(String profile) {
        assertEquals(List.of(), placed("simulated-bench", profile).problems());
    }

    @ParameterizedTest
    @CsvSource({
        "one-rail-bench, bench-12v",
        "one-rail-bench, counter-5v",
        "one-rail-bench, check-fixed-5v",
        "one-rail-bench, check-fixed-12v",
        "one-rail-bench, check-fixed-24v",
        "three-rail-bench, counter-3rail",
        "three-rail-bench, counter-15v",
        "three-rail-bench, counter-5v",
        "high-voltage-bench, tape-85v",
        "high-voltage-bench, counter-175v"
    })
    void everyBenchTakesTheProfilesItWasMadeFor(String rig, String profile) {
        assertEquals(List.of(), placed(rig, profile).problems());
    }

    @Test
    void railTakesTheFirstPositionThatHoldsIt() {
        assertEquals(List.of("1"), seats("counter-5v"));
        assertEquals(List.of("2"), seats("tape-24v"));
        assertEquals(List.of("2", "3"), seats("counter-15v"));
        assertEquals(List.of("1", "2", "3"), seats("counter-3rail"));
        assertEquals(List.of("4 (high voltage)"), seats("counter-175v"));
    }

    @Test
    void earlierRailMakesRoomForALaterOneThatFitsNowhereElse() throws BadFileException {
        // +10 V and then -5 V: the first would take position 1 if the second did not need it
        String text = shipped("counter-15v")
                .replace("name = \"+15 V\"\nnominal_V = 15", "name = \"+5 V\"\nnominal_V = 5")
                .replace("output_V = [14.6, 15.4]", "output_V = [4.9, 5.1]")
                .replaceFirst("over_voltage_V = 17.5", "over_voltage_V = 7")
                .replace(
                        "name = \"-15 V\"\nnominal_V = -15\nrated_current_A = 1",
                        "name = \"heavy\"\nnominal_V = -5\nrated_current_A = 12")
                .replace("output_V = [-15.4, -14.6]", "output_V = [-5.1, -4.9]")
                .replaceFirst("over_voltage_V = 17.5", "over_voltage_V = 7");
        int second = text.indexOf("\"heavy\"");
        text = text.substring(0, second)
                + text.substring(second)
                        .replace("max_probe_current_A = 1.5", "max_probe_current_A = 16")
                        .replace("current_limit_A = [1.15, 1.4]", "current_limit_A = [13, 15]");

        Placement placement = Placement.of(
                BuiltInFiles.rig("simulated-bench").config(),
                ProfileFile.parse("mixed.toml", text).profile());

        assertEquals(List.of(), placement.problems());
        assertEquals(
                List.of("2", "1"),
                placement.seats().stream().map(seat -> seat.position().name()).toList());
    }

    @Test
    void saysInWordsWhyABenchCannotTakeAUnit() {
        assertEquals(
                List.of(
                        "counter-175v on one-rail-bench: line: the test needs 207 to 253 V; the bench can give 0 to 140 V",
                        "counter-175v on one-rail-bench: line.frequency_Hz: the unit is made for 50 Hz; the bench has 60 Hz",
                        "counter-175v on one-rail-bench: rails[1] (+175 V): no position can take this rail; nearest is"
                                + " position \"bench\", but over_voltage_V 200 is above the 40 V of channel \"output\";"
                                + " over_voltage_V 200 is above the 60 V of load \"bench-load\";"
                                + " over_voltage_V 200 is above the 40 V the bench is built for"),
                texts(placed("one-rail-bench", "counter-175v")));
        assertEquals(
                List.of("counter-15v on one-rail-bench: rails[2] (-15 V): too few positions: every one that could take"
                        + " this rail is needed for another; the bench has 1, the unit 2 rails"),
                texts(placed("one-rail-bench", "counter-15v")));
    }

    @Test
    void saysWhichCurrentOrPowerIsTooMuch() throws BadFileException {
        String heavy = shipped("counter-5v")
                .replace("rated_current_A = 8", "rated_current_A = 31")
                .replace("max_probe_current_A = 12", "max_probe_current_A = 45")
                .replace("current_limit_A = [9.2, 11.2]", "current_limit_A = [33, 42]");
        Profile profile = ProfileFile.parse("heavy.toml", heavy).profile();
        Placement placement = Placement.of(BuiltInFiles.rig("one-rail-bench").config(), profile);

        assertFalse(placement.possible());
        assertEquals(List.of(), placement.seats());
        assertEquals(
                List.of(
                        "counter-5v on one-rail-bench: rails: all rails at max_probe_current_A make 225 W; the bench is"
                                + " built for 150 W",
                        "counter-5v on one-rail-bench: rails[1] (+5 V): no position can take this rail; nearest is position"
                                + " \"bench\", but rated_current_A 31 is above the 30 A of load \"bench-load\"; nominal_V at"
                                + " max_probe_current_A makes 225 W, above the 150 W of load \"bench-load\""),
                texts(placement));
    }

    private static List<String> texts(Placement placement) {
        return placement.problems().stream().map(Problem::text).toList();
    }

    private static List<String> seats(String profile) {
        return placed("simulated-bench", profile).seats().stream()
                .map(seat -> seat.position().name())
                .toList();
    }

    private static Placement placed(String rig, String profile) {
        return Placement.of(
                BuiltInFiles.rig(rig).config(), BuiltInFiles.profile(profile).profile());
    }

    private static String shipped(String profile) {
        return BuiltInFiles.profile(profile).source().text();
    }
}

package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import railproof.base.BadFileException;
import railproof.diagnosis.Condition;
import railproof.diagnosis.Readings;
import railproof.diagnosis.Sight;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.file.BuiltInFiles;

final class ReadingsCsvTest {
    private static final Profile BENCH = BuiltInFiles.profile("bench-12v").profile();
    private static final Profile PAIR = BuiltInFiles.profile("counter-15v").profile();

    private static Readings of(Map<Rail, Readings> read, Rail rail) {
        return read.getOrDefault(rail, Readings.none());
    }

    private static double value(Readings readings, Sight sight, Condition at) {
        return readings.of(sight, at).orElseThrow().value();
    }

    @Test
    void readsWhatAMeterShowedAndLeavesEmptyCellsOut() throws BadFileException {
        Map<Rail, Readings> read = ReadingsCsv.parse(
                "by-hand.csv",
                """
                condition,output_voltage_V,ripple_pp_V,raw_voltage_V,base_voltage_V,line_voltage_V,limit_current_A
                no-load,12.2,,21.7,13.4,115,
                full-load,11.7,1.22,16.2,13.7,,2.5
                """,
                BENCH);

        Readings readings = of(read, BENCH.rails().get(0));
        assertEquals(12.2, value(readings, Sight.OUTPUT, Condition.NO_LOAD));
        assertEquals(1.22, value(readings, Sight.OUTPUT_RIPPLE, Condition.FULL_LOAD));
        assertEquals(1.2, value(readings, Sight.BASE, Condition.NO_LOAD), 1e-9, "the base counts from the output");
        assertEquals(2.5, value(readings, Sight.LIMIT, Condition.FULL_LOAD));
        assertTrue(readings.of(Sight.OUTPUT_RIPPLE, Condition.NO_LOAD).isEmpty());
    }

    @Test
    void aNegativeRailIsTurnedUpright() throws BadFileException {
        Map<Rail, Readings> read = ReadingsCsv.parse(
                "by-hand.csv",
                """
                rail,condition,output_voltage_V,base_voltage_V
                -15 V,full-load,-14.9,-16.4
                """,
                PAIR);

        Readings readings = of(read, PAIR.rail("-15 V"));
        assertEquals(14.9, value(readings, Sight.OUTPUT, Condition.FULL_LOAD));
        assertEquals(1.5, value(readings, Sight.BASE, Condition.FULL_LOAD), 1e-9);
    }

    @Test
    void everyMistakeIsNamedAtOnceWithItsPlace() {
        BadFileException bad = assertThrows(
                BadFileException.class,
                () -> ReadingsCsv.parse(
                        "by-hand.csv",
                        """
                        rail,condition,output_voltage_V,base_voltage_V,ripple_pp_V
                        +16 V,full-load,14.9,,
                        +15 V,half-lode,14.9,,
                        +15 V,full-load,14;9,,
                        +15 V,full-load,,16.4,
                        +15 V,full-load,14.9,,-0.1
                        """,
                        PAIR));

        String said = String.valueOf(bad.getMessage());
        assertEquals(5, bad.problems().size(), said);
        assertTrue(said.contains("by-hand.csv:2:1: rail: must be one of +15 V, -15 V, found \"+16 V\""), said);
        assertTrue(said.contains("by-hand.csv:3:7: condition: must be no-load"), said);
        assertTrue(said.contains("by-hand.csv:4:17: output_voltage_V: must be a number"), said);
        assertTrue(said.contains("by-hand.csv:5:18: base_voltage_V: needs the output voltage"), said);
        assertTrue(said.contains("by-hand.csv:6:23: ripple_pp_V: must not be negative"), said);
    }

    @Test
    void aFileWithoutReadingsIsRefused() {
        for (String text :
                new String[] {"", "condition,output_voltage_V\n", "condition,output_voltage_V\nfull-load,\n"}) {
            assertThrows(BadFileException.class, () -> ReadingsCsv.parse("empty.csv", text, BENCH), text);
        }
        BadFileException bad = assertThrows(
                BadFileException.class, () -> ReadingsCsv.parse("x.csv", "condition,volts\nfull-load,12\n", BENCH));
        assertTrue(String.valueOf(bad.getMessage()).contains("unknown column \"volts\""), bad.getMessage());
    }
}

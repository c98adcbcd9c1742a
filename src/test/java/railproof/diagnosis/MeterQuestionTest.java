package railproof.diagnosis;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.Measured;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.file.BuiltInFiles;

class MeterQuestionTest {
    private static final Profile TYPE = BuiltInFiles.profile("counter-5v").profile();
    private static final Rail RAIL = TYPE.rails().get(0);

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "12.1;12.1",
                "850m;0.85",
                "850 mV;0.85",
                "'12,1 V';12.1",
                "-3;-3",
                "1.2k;1200",
                "5µ;5e-6",
                "2e-3;0.002"
            })
    void numbersAreReadAsPeopleTypeThemOffAMeter(String typed, double value) {
        assertEquals(value, MeterQuestion.number(typed).orElseThrow(), 1e-12 * Math.abs(value));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "twelve", "1.2.3", "12 V d.c.", "NaN", "0x10", "1e", "--1"})
    void whatIsNoNumberIsNone(String typed) {
        assertEquals(OptionalDouble.empty(), MeterQuestion.number(typed));
    }

    @ParameterizedTest
    @EnumSource(ProbeNode.class)
    void everyNodeHasAQuestionThatLeadsToAReading(ProbeNode node) {
        Readings known = Readings.none();
        for (Condition at : new Condition[] {Condition.NO_LOAD, Condition.FULL_LOAD}) {
            known = new MeterQuestion(Sight.OUTPUT, at, "")
                    .taken(5, RAIL, TYPE.line(), known)
                    .orElseThrow();
        }
        for (MeterQuestion question : MeterQuestion.at(node)) {
            assertEquals(node, question.sight().node());
            known = question.taken(6, RAIL, TYPE.line(), known).orElseThrow();
        }
        assertTrue(known.nodes().contains(node), () -> node + " is read");
    }

    @Test
    void aBaseIsReadAgainstCommonAndKeptAgainstTheOutput() {
        MeterQuestion base = new MeterQuestion(Sight.BASE, Condition.FULL_LOAD, "");
        assertTrue(base.taken(6.2, RAIL, TYPE.line(), Readings.none()).isEmpty(), "without the output it says nothing");

        Readings known = new MeterQuestion(Sight.OUTPUT, Condition.FULL_LOAD, "")
                .taken(5, RAIL, TYPE.line(), Readings.none())
                .orElseThrow();
        Measured above = base.taken(6.2, RAIL, TYPE.line(), known)
                .orElseThrow()
                .of(Sight.BASE, Condition.FULL_LOAD)
                .orElseThrow();

        assertEquals(1.2, above.value(), 1e-12);
        // two readings of about the same size, each known to half a percent
        assertEquals(Math.sqrt(2) * 0.005 * 6.2, above.standardU(), 1e-12);
    }
}

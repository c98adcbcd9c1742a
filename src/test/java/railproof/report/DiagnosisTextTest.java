package railproof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.diagnosis.Diagnosis.PartSuspect;
import railproof.diagnosis.PartFault;

class DiagnosisTextTest {
    private static final PartFault FAULT = PartFault.DIODE_OPEN;

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            textBlock =
                    """
            1    | nothing read so far speaks for or against it: it is suspected as much as before, and no more
            1.9  | nothing read so far speaks for or against it: it is suspected as much as before, and no more
            2    | no reading speaks for or against it by itself; all together they are 2.0 times as probable with this fault as in a sound unit
            0.5  | no reading speaks for or against it by itself; all together they are 2.0 times less probable with this fault than in a sound unit
            0.02 | no reading speaks for or against it by itself; all together they are 50 times less probable with this fault than in a sound unit
            1e5  | no reading speaks for or against it by itself; all together they are more than 1000 times as probable with this fault as in a sound unit
            """)
    void whatNoReadingSaysAloneIsSaidOfAllTogether(double timesSoundRatio, String words) {
        PartSuspect suspect = new PartSuspect(FAULT.part(), FAULT, 0.3, timesSoundRatio, List.of());

        assertEquals(words, DiagnosisText.together(suspect));
    }
}

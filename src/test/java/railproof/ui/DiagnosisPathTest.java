package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import railproof.diagnosis.ProbeNode;
import railproof.profile.SupplyStage;

class DiagnosisPathTest {
    @ParameterizedTest
    @EnumSource
    void everyNodeTheProbeCanBeSentToHasItsOnePlaceOnThePath(ProbeNode node) {
        List<DiagnosisPath.Part> places = DiagnosisPath.PARTS.stream()
                .filter(part -> part.nodes().contains(node))
                .toList();

        assertEquals(1, places.size(), node + " is at " + places);
    }

    @ParameterizedTest
    @EnumSource
    void everyStageThatCanBeSuspectedIsCountedOnceOnThePath(SupplyStage stage) {
        List<DiagnosisPath.Part> places = DiagnosisPath.PARTS.stream()
                .filter(part -> part.stages().contains(stage))
                .toList();

        assertEquals(1, places.size(), stage + " is at " + places);
    }

    @Test
    void noTwoPartsOfThePathHaveTheSameName() {
        long names = DiagnosisPath.PARTS.stream()
                .map(DiagnosisPath.Part::id)
                .distinct()
                .count();

        assertEquals(DiagnosisPath.PARTS.size(), names);
    }
}

package railproof.diagnosis;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.EnumSet;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.profile.PartValue;

/** Part values fitted to the nodes of ngspice's supply, whose parts are known. */
final class PartFitTest {
    private static final EnumSet<ProbeNode> NODES =
            EnumSet.of(ProbeNode.OUTPUT, ProbeNode.RAW, ProbeNode.BASE, ProbeNode.REFERENCE, ProbeNode.SENSE_TAP);

    private static PartFit.Result fit(Readings readings) {
        return PartFit.of(
                Bench12V.loadedRail(),
                Bench12V.profile().line(),
                Diagnosis.of(Bench12V.dictionary(), Priors.usual(), readings));
    }

    private static PartFit.Fitted fitted(String name, PartValue part) {
        List<PartFit.Fitted> all = fit(Bench12V.outside(name, NODES)).parts();
        return all.stream()
                .filter(f -> f.part() == part)
                .findFirst()
                .orElseThrow(() -> new AssertionError(part + " was not told: " + all));
    }

    /** Within the fit's own expanded uncertainty and a tenth for the devices the model guesses. */
    @ParameterizedTest
    @CsvSource({
        "healthy, RESERVOIR, 6800e-6, false",
        "healthy, WINDING, 0.32, false",
        "reservoir C -50 %, RESERVOIR, 3400e-6, true",
        "reservoir C -90 %, RESERVOIR, 680e-6, true",
        "reservoir ESR 1 ohm, RESERVOIR_ESR, 1.0, true",
        "secondary/joint R +1 ohm, WINDING, 1.32, true"
    })
    void theValueThatWasPutInComesOut(String name, PartValue part, double truth, boolean outside) {
        PartFit.Fitted fitted = fitted(name, part);

        double u = fitted.fitted().standardU();
        assertEquals(truth, fitted.fitted().value(), 2 * u + 0.1 * truth, fitted.toString());
        assertTrue(u < 0.2 * fitted.fitted().value(), "says next to nothing: " + fitted);
        assertEquals(outside, fitted.outside(), fitted.toString());
    }

    @Test
    void whatTheReadingsDoNotBearOnIsNotShown() {
        List<PartFit.Fitted> fromOutput = fit(Bench12V.outside("healthy", EnumSet.of(ProbeNode.REFERENCE)))
                .parts();

        assertTrue(fromOutput.stream().noneMatch(f -> f.part() == PartValue.RESERVOIR), fromOutput.toString());
    }
}

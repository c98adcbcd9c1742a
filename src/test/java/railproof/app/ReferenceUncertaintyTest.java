package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.rig.ChannelCalibration;

/** A reference meter's uncertainty as people write it, at the command and in the window. */
class ReferenceUncertaintyTest {
    @ParameterizedTest
    @CsvSource({"0.003 % + 0.0002, 3e-5, 0.0002", "0.003%+2e-4, 3e-5, 0.0002", "0.01 %, 1e-4, 0", "0.0005, 0, 0.0005"})
    void bothPartsAreRead(String stated, double gainRatio, double offset) {
        ChannelCalibration.Reference meter =
                CalibrationRequest.reference("meter 34", stated).orElseThrow();

        assertEquals("meter 34", meter.meter());
        assertEquals(gainRatio, meter.gainURatio(), 1e-15);
        assertEquals(offset, meter.offsetUDimensionless(), 1e-15);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "  ", "good", "0.003 % - 0.0002", "1 % 2 %", "-0.1 %"})
    void whatIsNotWrittenLikeThatIsRefused(String stated) {
        assertEquals(Optional.empty(), CalibrationRequest.reference("meter 34", stated));
    }
}

package railproof.run;

import java.time.Instant;
import java.util.List;
import railproof.profile.SourceText;

/**
 * What a run is about; fixed before the first point.
 *
 * @param runId unique and sortable: UTC start time, unit serial, stage
 * @param unitSerial serial number of the unit under test
 * @param stage before or after the repair
 * @param operator who runs it, empty if not said
 * @param startedAt wall time of the start
 * @param softwareVersion version of this program
 * @param profile the profile's text as it was
 * @param rig the rig file's text as it was
 * @param calibration the calibration file's text as it was, with empty text if there is none
 * @param simulated whether any instrument declared itself a simulation
 * @param simulatedUnit which simulated unit and fault, empty on a real bench
 * @param instruments one line per instrument: name, model, serial, firmware
 */
public record RunHeader(
        String runId,
        String unitSerial,
        Stage stage,
        String operator,
        Instant startedAt,
        String softwareVersion,
        SourceText profile,
        SourceText rig,
        SourceText calibration,
        boolean simulated,
        String simulatedUnit,
        List<String> instruments) {
    public RunHeader {
        instruments = List.copyOf(instruments);
    }
}

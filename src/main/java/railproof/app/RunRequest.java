package railproof.app;

import java.nio.file.Path;
import java.util.Optional;
import railproof.profile.ProfileFile;
import railproof.rig.file.RigFile;
import railproof.run.Stage;

/**
 * What is to be run.
 *
 * @param rig the rig, as its file says
 * @param profile the profile, as its file says
 * @param unitSerial serial number of the unit under test
 * @param stage before or after the repair
 * @param operator who runs it, empty if not said
 * @param dataDirectory where the run folder goes
 * @param simulatedFault what is broken in the simulated unit, in the simulator's words; overrides the rig file
 * @param realTime whether a simulated bench is paced by the wall clock
 */
public record RunRequest(
        RigFile rig,
        ProfileFile profile,
        String unitSerial,
        Stage stage,
        String operator,
        Path dataDirectory,
        Optional<String> simulatedFault,
        boolean realTime) {}

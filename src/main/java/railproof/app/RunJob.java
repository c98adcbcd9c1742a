package railproof.app;

import java.nio.file.Path;
import railproof.base.BadFileException;
import railproof.procedure.Qualification;
import railproof.profile.Profile;
import railproof.record.RecordException;
import railproof.record.RunFolderWriter;
import railproof.rig.RigControl;
import railproof.rig.RunStart;
import railproof.run.RunHeader;

/** What a run does, and where its record goes. */
interface RunJob extends RigControl.Work {
    /** Where numbering begins. */
    default RunStart start() {
        return RunStart.NEW;
    }

    /** Opens the record once every instrument was met. */
    default RunFolderWriter open(Path dataDirectory, RunHeader header) throws RecordException, BadFileException {
        return RunFolderWriter.open(dataDirectory, header);
    }

    /** Whether a rig that cannot even be met makes a record, which then ends there. */
    default boolean recordsTroubleAtTheStart() {
        return true;
    }

    /** The process is being ended. */
    default void processEnds() {}

    /** The main job. */
    static RunJob qualification(Profile profile) {
        return bench -> new Qualification(profile).on(bench);
    }
}

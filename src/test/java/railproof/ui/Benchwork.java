package railproof.ui;

import java.nio.file.Path;
import java.util.Optional;
import railproof.app.Benches;
import railproof.app.NamedFiles;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.app.RunService;
import railproof.profile.Profile;
import railproof.record.DictionaryFile;
import railproof.rig.Operator;
import railproof.run.Stage;

/** Runs that are there before a window opens. */
final class Benchwork {
    private Benchwork() {}

    /** Tests a simulated unit and leaves its record in a data directory. */
    static Path test(Path data, String profile, String unit, Stage stage, Optional<String> fault) throws Exception {
        RunRequest request = new RunRequest(
                NamedFiles.rig("simulated-bench"),
                NamedFiles.profile(profile),
                unit,
                stage,
                "m. k.",
                data,
                fault,
                false);
        RunResult result = new RunService(request, Benches.open(request)).run(Operator.nobody(), event -> {});
        return result.folder();
    }

    /** Works out what faults of a type look like, which takes long on a busy machine. */
    static void dictionary(Path data, String profile) throws Exception {
        Profile type = NamedFiles.profile(profile).profile();
        DictionaryFile.of(data, type.rails().get(0), type.line(), () -> {});
    }
}

package railproof.app;

import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;

/**
 * One unit to be burnt in.
 *
 * @param run rig, profile, unit and where the record goes
 * @param time time under load, if not the profile's
 * @param resume folder of the run that broke off and is to be gone on with
 */
public record BurnInRequest(RunRequest run, Optional<Duration> time, Optional<Path> resume) {}

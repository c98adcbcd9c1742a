package railproof.app;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;
import railproof.base.BadFileException;
import railproof.profile.ProfileFile;
import railproof.rig.file.RigFile;
import railproof.run.Stage;
import railproof.wire.Link;

/** Burn-ins of the plain unit on plain benches, in virtual time. */
final class BurnInBench {
    /** Six minutes under load, two cold starts. */
    static final String PLAN =
            """
            [plan.burn_in]
            hours = 0.1
            load_pct = 90
            cold_starts = 2
            off_s = 5
            sample_every_s = 10
            reading_every_s = 60
            hot_after_s = 30
            cool_s = 20
            drift_max_pct = 1
            ripple_growth_max_ratio = 2
            """;

    private BurnInBench() {}

    static ProfileFile profile() throws BadFileException {
        return ProfileFile.parse("plain-5v.toml", PlainBench.PROFILE.replace("[[rails]]", PLAN + "[[rails]]"));
    }

    static BurnInRequest request(String unit, Path data, Optional<Path> resume) throws BadFileException {
        return new BurnInRequest(
                new RunRequest(
                        RigFile.parse("plain-bench.toml", PlainBench.RIG),
                        profile(),
                        unit,
                        Stage.AS_LEFT,
                        "",
                        data,
                        Optional.empty(),
                        false),
                Optional.<Duration>empty(),
                resume);
    }

    /** Where a bench's instruments are, its links passing through something. */
    static BenchAccess access(PlainBench bench, RunRequest request, UnaryOperator<Link> wrapping) {
        LinkOpener memory = Benches.memoryLinks(bench.bench, request.rig().config());
        return new BenchAccess(
                bench.clock, (link, with) -> wrapping.apply(memory.open(link, with)), true, "plain unit, no fault");
    }

    static BurnInService service(List<BurnInRequest> requests) throws BadFileException {
        return new BurnInService(requests, request -> access(new PlainBench(), request, link -> link));
    }
}

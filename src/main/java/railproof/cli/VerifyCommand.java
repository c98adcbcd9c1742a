package railproof.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import railproof.app.ExitStatus;
import railproof.app.Sealing;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.record.RunFolder;
import railproof.seal.StrayFile;
import railproof.seal.Verification;
import railproof.seal.Verification.State;
import railproof.seal.Verifier;

/** {@code railproof verify}: is it as it was sealed? */
@Command(
        name = "verify",
        mixinStandardHelpOptions = true,
        description = {
            "Says whether a run, a file of it, or all runs of a data directory are as they were sealed: intact,"
                    + " changed (and what), unsigned, or sealed with a key that is not known here. A certificate on its"
                    + " own is checked against a seal file beside it, or against its run in the data directory.",
            "",
            "Keys of other benches are known once their seal-key-public.pem lies in the folder trusted/ beside this"
                    + " bench's own keys (~/.railproof/keys, or where RAILPROOF_KEYS points).",
            ""
        },
        footer = {
            "",
            "Exit status: 0 intact; 1 changed, or a file is missing or was added; 4 unsigned, or sealed with an"
                    + " unknown key; 2 there is nothing to check."
        })
final class VerifyCommand implements Callable<Integer> {
    private final Screen screen;

    @Parameters(paramLabel = "RUN|FILE|DIR", description = "run folder or its name, a file, or a data directory")
    private String what = "";

    @Mixin
    private DataOption data = new DataOption();

    @Option(names = "--seal", paramLabel = "FILE", description = "check the file against this seal")
    private Optional<Path> seal = Optional.empty();

    @Option(names = "--json", description = "print the result as JSON")
    private boolean json;

    VerifyCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() throws BadFileException {
        Map<String, Verification> found;
        try {
            found = check(Sealing.keys().known());
        } catch (IOException e) {
            throw bad("cannot be read: " + e);
        }
        if (json) {
            screen.out().print(ListJson.verifications(found));
        } else {
            found.forEach(this::show);
        }
        return status(found).code();
    }

    private Map<String, Verification> check(Set<String> keys) throws IOException, BadFileException {
        Path path = Inputs.path(what);
        if (Files.isRegularFile(path)) {
            Path folder = path.toAbsolutePath().getParent();
            Verification found = folder != null && RunFolder.isRun(folder) && seal.isEmpty()
                    ? Verifier.run(folder, keys)
                    : StrayFile.check(path, seal, data.directory(), keys);
            return Map.of(path.toString(), found);
        }
        if (Files.isDirectory(path) && !RunFolder.isRun(path)) {
            Map<String, Verification> all = new LinkedHashMap<>();
            for (Path run : RunFolder.runs(path)) {
                all.put(String.valueOf(run.getFileName()), Verifier.run(run, keys));
            }
            if (!all.isEmpty()) {
                return all;
            }
        }
        Path run = Inputs.run(what, data.directory());
        return Map.of(String.valueOf(run.getFileName()), Verifier.run(run, keys));
    }

    private void show(String name, Verification found) {
        screen.print(name + ": " + found.state().words());
        found.findings().forEach(finding -> screen.print("  " + finding.file() + " " + finding.words()));
        found.notes().forEach(note -> screen.print("  note: " + note));
        found.seal()
                .ifPresent(s -> screen.print("  seal " + s.number() + " of " + s.sealedAt() + ", key "
                        + s.publicKey().substring(0, 16) + ", record " + s.recordDigest()));
    }

    private static ExitStatus status(Map<String, Verification> found) {
        List<State> states =
                found.values().stream().map(Verification::state).distinct().toList();
        if (states.contains(State.CHANGED)) {
            return ExitStatus.UNIT_FAILED;
        }
        return states.equals(List.of(State.INTACT)) ? ExitStatus.PASSED : ExitStatus.NOT_JUDGED;
    }

    private BadFileException bad(String message) {
        return new BadFileException(List.of(new Problem(what, 0, 0, "", message)));
    }
}

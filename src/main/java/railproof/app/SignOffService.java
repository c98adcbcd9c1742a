package railproof.app;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import railproof.base.BadFileException;
import railproof.judge.Judgement;
import railproof.judge.SignOff;
import railproof.judge.SignOffRules;
import railproof.profile.ProfileFile;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.record.SignOffJson;
import railproof.report.CertificateExtras;
import railproof.run.RunData;
import railproof.seal.KeyFolder;
import railproof.seal.Sealer;
import railproof.seal.Verification;
import railproof.seal.Verification.State;
import railproof.seal.Verifier;

/** Signs runs off, or says why not. Thread: any. */
public final class SignOffService {
    private SignOffService() {}

    /**
     * What came of it.
     *
     * @param refusals every reason against it; empty if it is signed off now
     * @param signOff what was written
     */
    public record Result(List<String> refusals, SignOff signOff) {
        public Result {
            refusals = List.copyOf(refusals);
        }
    }

    /**
     * Signs a run off: writes the sign-off and the certificate that prints it under a new seal, or changes nothing.
     *
     * @param asked who, what and when; its verdict is replaced by the one on record
     * @param before the unit's run before the repair, to be drawn on the certificate
     * @throws BadFileException if a file of the run cannot be used
     * @throws RecordException if the disk refuses
     */
    public static Result signOff(Path folder, SignOff asked, Optional<Path> before)
            throws BadFileException, RecordException {
        KeyFolder keys = Sealing.keys();
        List<String> refusals = new ArrayList<>();
        seal(folder, keys, refusals);
        if (!refusals.isEmpty()) {
            // of a record that was changed nothing else can be said
            return new Result(refusals, asked);
        }
        RunData run = RunFolder.read(folder);
        Judgement judgement = RunFolder.readVerdict(RunFolder.verdictFile(folder));
        SignOff signOff = new SignOff(
                asked.by().strip(),
                asked.checked(),
                asked.at(),
                asked.reason().strip(),
                asked.training(),
                judgement.overall());
        SignOffJson.of(folder).ifPresent(earlier -> refusals.add("it is signed off already, by " + earlier.by()));
        refusals.addAll(SignOffRules.refusals(run, judgement, signOff));
        if (!refusals.isEmpty()) {
            return new Result(refusals, signOff);
        }
        String digest = Sealer.recordDigest(folder);
        ProfileFile profile = ProfileFile.parse(run.header().profile());
        Optional<RunData> beside = before.isPresent() ? Optional.of(RunFolder.read(before.get())) : Optional.empty();
        CertificateExtras extras = new CertificateExtras(Optional.of(signOff), beside, digest);
        Map<String, byte[]> files = new TreeMap<>(Paperwork.of(run, profile.profile(), judgement, extras));
        files.put(RunFolder.SIGN_OFF_FILE, SignOffJson.write(run.header().runId(), digest, signOff));
        new Sealer(keys).seal(folder, run.header(), asked.at(), files);
        return new Result(refusals, signOff);
    }

    private static void seal(Path folder, KeyFolder keys, List<String> refusals)
            throws BadFileException, RecordException {
        Verification found;
        try {
            found = Verifier.run(folder, keys.known());
        } catch (IOException e) {
            throw new RecordException("check the seal", folder, e);
        }
        if (found.state() == State.UNSIGNED) {
            refusals.add("it is not sealed: it did not end, or its bench could not seal it");
        }
        if (found.state() == State.UNKNOWN_KEY) {
            refusals.add("it is sealed with a key that is not known here");
        }
        found.findings()
                .forEach(finding ->
                        refusals.add("changed since it was sealed: " + finding.file() + " " + finding.words()));
    }
}

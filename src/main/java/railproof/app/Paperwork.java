package railproof.app;

import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.TreeMap;
import railproof.judge.Judgement;
import railproof.profile.Profile;
import railproof.report.CertificateCsv;
import railproof.report.CertificateExtras;
import railproof.report.CertificatePage;
import railproof.report.CertificatePdf;
import railproof.run.RunData;

/** The certificate in all its forms, as files of a run folder. Pure. */
final class Paperwork {
    private Paperwork() {}

    /** File names and contents. */
    static Map<String, byte[]> of(RunData run, Profile profile, Judgement judgement, CertificateExtras extras) {
        Map<String, byte[]> files = new TreeMap<>();
        String page = CertificatePage.html(run, profile, judgement, extras);
        files.put(CertificatePage.FILE, page.getBytes(StandardCharsets.UTF_8));
        files.put(CertificatePdf.FILE, CertificatePdf.pdf(run, profile, judgement, extras));
        files.put(
                CertificateCsv.FILE, CertificateCsv.text(run, judgement, extras).getBytes(StandardCharsets.UTF_8));
        return files;
    }
}

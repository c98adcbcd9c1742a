package railproof.report;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.preflight.ValidationResult;
import org.apache.pdfbox.preflight.parser.PreflightParser;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import railproof.judge.SignOff;
import railproof.judge.Verdict;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

class CertificatePdfTest {
    private static final String DIGEST = "5ea1".repeat(16);
    private static final SignOff SIGNED = new SignOff(
            "m. k.",
            List.of("earth bond", "insulation, inlet to chassis"),
            Instant.parse("2026-11-25T12:00:00Z"),
            "ripple measured again with the reference meter",
            false,
            Verdict.CONDITIONAL_PASS);

    @Test
    void isPdfA1bByTheLibrarysOwnCheck() throws IOException {
        for (SampleRun sample : List.of(
                SampleRun.plain(),
                new SampleRun("漢字 LC2107 \u202E ± Ω \uD83D\uDE00", true, SampleRun.DONE),
                new SampleRun(
                        "LC2107",
                        false,
                        new RunOutcome(RunOutcome.End.INCOMPLETE, "killed", List.of(), SafeState.UNKNOWN)))) {
            Path file = Files.createTempFile("certificate", ".pdf");
            Files.write(file, pdf(sample, extras(sample)));
            ValidationResult result = PreflightParser.validate(file.toFile());
            assertTrue(result.isValid(), () -> result.getErrorsList().stream()
                    .map(error -> error.getErrorCode() + " " + error.getDetails())
                    .toList()
                    .toString());
            Files.delete(file);
        }
    }

    @Test
    void itsTextCanBeSelectedAndSearched() throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf(SampleRun.plain(), extras(SampleRun.plain())))) {
            String text = new PDFTextStripper().getText(document).replaceAll("\\s+", " ");
            for (String part : List.of(
                    "Certificate of test",
                    "Unit LC2107. Verdict: pass",
                    "40.2 ± 3.1 mV",
                    "≤ 60 mV",
                    "12.1691 ± 0.0091 V",
                    "largest current 2.6 A",
                    "ILAC-G8:09/2019, 4.2.3",
                    "The chassis of this type is the positive output.",
                    "insulation, inlet to chassis",
                    "ripple measured again with the reference meter",
                    "load current / A",
                    "as found",
                    "page 1 of",
                    DIGEST)) {
                assertTrue(text.contains(part), part + " in " + text);
            }
            PDFTextStripper first = new PDFTextStripper();
            first.setEndPage(1);
            String front = first.getText(document);
            assertTrue(front.contains("Signed off") && front.contains("Limit") && front.contains(DIGEST), front);
        }
    }

    @Test
    void everyFontIsEmbedded() throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf(SampleRun.plain(), extras(SampleRun.plain())))) {
            int fonts = 0;
            for (PDPage page : document.getPages()) {
                for (COSName name : page.getResources().getFontNames()) {
                    PDFont font = page.getResources().getFont(name);
                    assertTrue(font.isEmbedded(), font.getName());
                    fonts++;
                }
            }
            assertTrue(fonts > 0);
            assertNotNull(document.getDocumentCatalog().getMetadata());
        }
    }

    @Test
    void theSameRunGivesTheSameBytes() {
        assertArrayEquals(
                pdf(SampleRun.plain(), extras(SampleRun.plain())), pdf(SampleRun.plain(), extras(SampleRun.plain())));
    }

    @Test
    void saysWhichRunItBelongsToWithoutBeingTakenApart() {
        String bytes = new String(pdf(SampleRun.plain(), extras(SampleRun.plain())), StandardCharsets.ISO_8859_1);
        assertTrue(bytes.contains("railproof-run: 20261125T101530Z_LC2107_as-left"));
    }

    @Test
    void aSignTheFontDoesNotHaveIsShownByItsCode() throws IOException {
        SampleRun odd = new SampleRun("漢LC", false, SampleRun.DONE);
        try (PDDocument document = Loader.loadPDF(pdf(odd, CertificateExtras.NONE))) {
            String text = new PDFTextStripper().getText(document);
            assertTrue(text.contains("<U+6F22>LC"), text);
            assertFalse(text.contains("漢"));
        }
    }

    @Test
    void aRunWithManyChecksGoesOnInTheAnnexWithItsHeading() throws IOException {
        List<railproof.judge.Check> many = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            many.addAll(SampleRun.plain().judgement(Verdict.PASS).checks());
        }
        var one = SampleRun.plain().judgement(Verdict.PASS);
        byte[] pdf = CertificatePdf.pdf(
                SampleRun.plain().data(),
                SampleRun.plain().profile(),
                new railproof.judge.Judgement(one.profileId(), one.profileSha256(), one.rule(), many),
                CertificateExtras.NONE);
        try (PDDocument document = Loader.loadPDF(pdf)) {
            PDFTextStripper second = new PDFTextStripper();
            second.setStartPage(2);
            second.setEndPage(2);
            assertTrue(second.getText(document).startsWith("Rail Check Value ± U k Limit Verdict"));
            String all = new PDFTextStripper().getText(document);
            assertEquals(12, all.split("40.2 ± 3.1 mV", -1).length - 1);
        }
    }

    private static CertificateExtras extras(SampleRun before) {
        return new CertificateExtras(Optional.of(SIGNED), Optional.of(before.data()), DIGEST);
    }

    private static byte[] pdf(SampleRun sample, CertificateExtras extras) {
        return CertificatePdf.pdf(sample.data(), sample.profile(), sample.judgement(Verdict.PASS), extras);
    }
}

package railproof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;
import railproof.judge.Judgement;
import railproof.judge.Verdict;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

class CertificatePageTest {
    @Test
    void thePageIsWellFormedAndShowsEveryCheckAndThreeCurves() throws Exception {
        Document page = parsed(html(SampleRun.plain(), Verdict.PASS));
        assertEquals("Certificate of test", text(page, "h1", 0));
        assertEquals(3, page.getElementsByTagName("svg").getLength());
        String body = text(page, "body", 0);
        for (String part : List.of(
                "40.2 ± 3.1 mV",
                "≤ 60 mV",
                "12.1691 ± 0.0091 V",
                "0.290 ± 0.047 %",
                "this rig has no line source",
                "ILAC-G8:09/2019, 4.2.3",
                "largest current 2.6 A",
                "The chassis of this type is the positive output.",
                "ab12",
                "cd34",
                "ef56",
                "after 0:01:35",
                "2026-11-25 10:15:30 UTC",
                "Verdict: pass")) {
            assertTrue(body.contains(part), part);
        }
        assertFalse(body.contains("SIMULATED"));
        keep("certificate.html", html(SampleRun.plain(), Verdict.PASS));
    }

    @Test
    void theSamePagesAreTheSameBytes() {
        assertEquals(html(SampleRun.plain(), Verdict.PASS), html(SampleRun.plain(), Verdict.PASS));
    }

    @Test
    void aSimulatedRunIsMarkedLarge() throws Exception {
        Document page = parsed(html(new SampleRun("LC2107", true, SampleRun.DONE), Verdict.PASS));
        assertEquals("Test record (not a certificate)", text(page, "h1", 0));
        assertEquals(List.of("SIMULATED: no real unit was measured (lab-counter-12, healthy)"), marks(page));
    }

    @Test
    void anIncompleteRunThatMayStillBeLiveSaysSoAndIsNoCertificate() throws Exception {
        RunOutcome outcome = new RunOutcome(RunOutcome.End.INCOMPLETE, "killed", List.of(), SafeState.UNKNOWN);
        Document page = parsed(html(new SampleRun("LC2107", false, outcome), Verdict.NOT_JUDGED));
        assertEquals("Test record (not a certificate)", text(page, "h1", 0));
        assertEquals(
                List.of(
                        "UNSAFE: load and unit are not known to be off",
                        "INCOMPLETE: killed",
                        "NOT JUDGED: at least one limit could not be judged"),
                marks(page));
    }

    @Test
    void aGoodUnitOnABenchThatIsNotConfirmedOffGetsNoCertificateAndNoPass() throws Exception {
        for (SafeState state : List.of(SafeState.COMMANDED, SafeState.UNKNOWN)) {
            RunOutcome outcome = new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), state);
            String html = html(new SampleRun("LC2107", false, outcome), Verdict.PASS);
            assertEquals("Test record (not a certificate)", text(parsed(html), "h1", 0));
            assertEquals(1, marks(parsed(html)).size());
            assertTrue(html.contains("Verdict: withheld, load and unit are not confirmed to be off"), html);
            assertFalse(html.contains("Verdict: pass"));
        }
    }

    @Test
    void hostileTextStaysText() throws Exception {
        String serial = "<script>alert(1)</script>\"' onload=x ]]> --> &lt; \u0000\u0007\u202E\uD800\uFFFF";
        String html = html(new SampleRun(serial, false, SampleRun.DONE), Verdict.PASS);
        Document page = parsed(html);
        assertEquals(0, page.getElementsByTagName("script").getLength());
        assertTrue(text(page, "body", 0).contains("<script>alert(1)</script>\"' onload=x ]]> --> &lt; \uFFFD\uFFFD"));
        assertFalse(html.contains("\u202E"));
    }

    @Test
    void nothingIsFetchedFromOutside() {
        String html = html(SampleRun.plain(), Verdict.PASS).replace("http://www.w3.org/", "");
        assertFalse(Pattern.compile("(?i)https?:|url\\(|@import|<(script|link|img|iframe|object)|javascript:")
                .matcher(html)
                .find());
    }

    @Test
    void aRunWithoutPointsStillMakesAPage() throws Exception {
        RunData full = SampleRun.plain().data();
        RunData empty = new RunData(full.header(), List.of(), List.of(), List.of(), full.outcome());
        Judgement none = new Judgement("p", "", SampleRun.plain().profile().rule(), List.of());
        Document page = parsed(CertificatePage.html(empty, SampleRun.plain().profile(), none));
        assertEquals(0, page.getElementsByTagName("svg").getLength());
        assertTrue(text(page, "body", 0).contains("Not measured in this run."));
    }

    @Test
    void curvesStayInsideTheirPicture() throws Exception {
        NodeList lines = parsed(html(SampleRun.plain(), Verdict.PASS)).getElementsByTagName("polyline");
        assertEquals(3, lines.getLength());
        for (int i = 0; i < lines.getLength(); i++) {
            String[] pairs = lines.item(i)
                    .getAttributes()
                    .getNamedItem("points")
                    .getNodeValue()
                    .split(" ", -1);
            assertTrue(pairs.length >= 5);
            for (String pair : pairs) {
                double x = Double.parseDouble(pair.split(",", -1)[0]);
                double y = Double.parseDouble(pair.split(",", -1)[1]);
                assertTrue(x >= 76 && x <= 644 && y >= 12 && y <= 254, pair);
            }
        }
    }

    private static String html(SampleRun sample, Verdict ripple) {
        return CertificatePage.html(sample.data(), sample.profile(), sample.judgement(ripple));
    }

    private static List<String> marks(Document page) {
        NodeList blocks = page.getElementsByTagName("div");
        List<String> marks = new java.util.ArrayList<>();
        for (int i = 0; i < blocks.getLength(); i++) {
            var cls = blocks.item(i).getAttributes().getNamedItem("class");
            if (cls != null && cls.getNodeValue().equals("mark")) {
                marks.add(blocks.item(i).getTextContent());
            }
        }
        return marks;
    }

    private static String text(Document page, String tag, int index) {
        return page.getElementsByTagName(tag).item(index).getTextContent();
    }

    private static Document parsed(String html) throws ParserConfigurationException, SAXException, IOException {
        DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
        factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
        return factory.newDocumentBuilder().parse(new InputSource(new StringReader(html)));
    }

    /** Leaves the page where people can look at it. */
    private static void keep(String name, String text) throws IOException {
        Path folder = Path.of(System.getProperty("railproof.build.dir", "target"), "report-samples");
        Files.createDirectories(folder);
        Files.writeString(folder.resolve(name), text);
    }
}

package railproof.report;

import java.awt.Color;
import java.awt.color.ColorSpace;
import java.awt.color.ICC_Profile;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Calendar;
import java.util.GregorianCalendar;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TimeZone;
import javax.xml.transform.TransformerException;
import org.apache.pdfbox.pdfwriter.compress.CompressParameters;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentInformation;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDMetadata;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.font.PDType0Font;
import org.apache.pdfbox.pdmodel.graphics.color.PDOutputIntent;
import org.apache.pdfbox.pdmodel.graphics.state.RenderingMode;
import org.apache.xmpbox.XMPMetadata;
import org.apache.xmpbox.schema.PDFAIdentificationSchema;
import org.apache.xmpbox.type.BadFieldValueException;
import org.apache.xmpbox.xml.XmpSerializer;

/**
 * A4 pages as PDF/A-1b (ISO 19005-1): one embedded font, one output intent, metadata in XMP, nothing compressed that
 * must be readable as it is. The same content gives the same bytes. Coordinates in points, from the top left.
 *
 * <p>The font is Liberation Sans (SIL Open Font License 1.1), which comes with the PDF library; its bold is the same
 * outline with a thicker edge. Needs no display. Thread: one.
 */
final class PdfPaper implements AutoCloseable {
    static final double WIDTH = PDRectangle.A4.getWidth();
    static final double HEIGHT = PDRectangle.A4.getHeight();

    private static final String FONT = "/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf";
    private static final String PRODUCER = "Railproof";
    private static final double BOLD = 0.03;

    private final PDDocument document = new PDDocument();
    private final PDType0Font font;
    private final List<PDPageContentStream> pages = new ArrayList<>();
    private final Map<Integer, Boolean> glyphs = new HashMap<>();

    PdfPaper() {
        document.setVersion(1.4f);
        try (InputStream in = PDDocument.class.getResourceAsStream(FONT)) {
            if (in == null) {
                throw new IllegalStateException("the PDF library comes without its font " + FONT);
            }
            font = PDType0Font.load(document, in, true);
        } catch (IOException e) {
            throw new UncheckedIOException("the font cannot be read", e);
        }
    }

    /** Something that writes into a page. */
    interface Strokes {
        void on(PDPageContentStream page) throws IOException;
    }

    /** Begins a page; it becomes the last one. */
    void newPage() {
        try {
            PDPage page = new PDPage(PDRectangle.A4);
            document.addPage(page);
            pages.add(new PDPageContentStream(document, page));
        } catch (IOException e) {
            throw new UncheckedIOException("a page cannot be begun", e);
        }
    }

    int count() {
        return pages.size();
    }

    /** Draws on a page. */
    void draw(int page, Strokes strokes) {
        try {
            PDPageContentStream stream = pages.get(page);
            stream.saveGraphicsState();
            strokes.on(stream);
            stream.restoreGraphicsState();
        } catch (IOException e) {
            throw new UncheckedIOException("a page in memory cannot be written", e);
        }
    }

    /** How a text looks. */
    record TypeFace(double sizeDimensionless, boolean bold) {}

    /** Text with its left end at {@code x} and its base line at {@code y}. */
    void text(int page, double x, double y, TypeFace type, String text) {
        write(page, type, text, stream -> stream.newLineAtOffset((float) x, (float) (HEIGHT - y)));
    }

    /** Text that reads upwards, its middle at the place. */
    void upwards(int page, double x, double y, TypeFace type, String text) {
        double half = width(type, text) / 2;
        write(
                page,
                type,
                text,
                stream -> stream.setTextMatrix(org.apache.pdfbox.util.Matrix.getRotateInstance(
                        Math.PI / 2, (float) x, (float) (HEIGHT - y - half))));
    }

    private void write(int page, TypeFace type, String text, Strokes placed) {
        draw(page, stream -> {
            stream.beginText();
            stream.setFont(font, (float) type.sizeDimensionless());
            if (type.bold()) {
                stream.setRenderingMode(RenderingMode.FILL_STROKE);
                stream.setLineWidth((float) (BOLD * type.sizeDimensionless()));
                stream.setStrokingColor(Color.BLACK);
            }
            placed.on(stream);
            stream.showText(printable(text));
            stream.endText();
        });
    }

    /** Width of a text, in points. */
    double width(TypeFace type, String text) {
        try {
            return font.getStringWidth(printable(text)) / 1000 * type.sizeDimensionless();
        } catch (IOException e) {
            throw new UncheckedIOException("the font cannot be read", e);
        }
    }

    /** What the font has no sign for is written as its code, so that two texts never look the same for that. */
    String printable(String text) {
        StringBuilder printable = new StringBuilder();
        PlainText.line(text).codePoints().forEach(point -> {
            if (glyphs.computeIfAbsent(point, this::hasGlyph)) {
                printable.appendCodePoint(point);
            } else {
                printable.append(String.format(Locale.ROOT, "<U+%04X>", point));
            }
        });
        return printable.toString();
    }

    private boolean hasGlyph(int point) {
        try {
            return font.encode(Character.toString(point)).length > 0;
        } catch (IOException | IllegalArgumentException e) {
            // that is how the library says that there is none
            return false;
        }
    }

    /**
     * The finished file.
     *
     * @param title of the document
     * @param description says which run it belongs to
     * @param made time of the content
     */
    byte[] done(String title, String description, Instant made) {
        try {
            for (PDPageContentStream page : pages) {
                page.close();
            }
            GregorianCalendar date = new GregorianCalendar(TimeZone.getTimeZone(ZoneOffset.UTC), Locale.ROOT);
            date.setTimeInMillis(made.getEpochSecond() * 1000);
            describe(PlainText.line(title), description, date);
            outputIntent();
            // instead of the time of day, which would make every file another one
            document.setDocumentId(made.getEpochSecond());
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            document.save(out, CompressParameters.NO_COMPRESSION);
            return out.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException("a document in memory cannot be written", e);
        }
    }

    private void describe(String title, String description, Calendar date) throws IOException {
        PDDocumentInformation information = document.getDocumentInformation();
        information.setTitle(title);
        information.setSubject(description);
        information.setCreator(PRODUCER);
        information.setProducer(PRODUCER);
        information.setCreationDate(date);
        information.setModificationDate(date);
        XMPMetadata metadata = XMPMetadata.createXMPMetadata();
        PDFAIdentificationSchema part = metadata.createAndAddPDFAIdentificationSchema();
        var core = metadata.createAndAddDublinCoreSchema();
        core.setTitle(title);
        core.setDescription(description);
        var basic = metadata.createAndAddXMPBasicSchema();
        basic.setCreateDate(date);
        basic.setModifyDate(date);
        basic.setCreatorTool(PRODUCER);
        metadata.createAndAddAdobePDFSchema().setProducer(PRODUCER);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            part.setPart(1);
            part.setConformance("B");
            new XmpSerializer().serialize(metadata, out, true);
        } catch (BadFieldValueException | TransformerException e) {
            throw new IOException("metadata cannot be written", e);
        }
        PDMetadata stream = new PDMetadata(document);
        stream.importXMPMetadata(out.toByteArray());
        document.getDocumentCatalog().setMetadata(stream);
    }

    /** The colours meant are those of sRGB, by the profile every Java platform has. */
    private void outputIntent() throws IOException {
        byte[] profile = ICC_Profile.getInstance(ColorSpace.CS_sRGB).getData();
        PDOutputIntent intent = new PDOutputIntent(document, new ByteArrayInputStream(profile));
        intent.setInfo("sRGB IEC61966-2.1");
        intent.setOutputCondition("sRGB IEC61966-2.1");
        intent.setOutputConditionIdentifier("sRGB IEC61966-2.1");
        intent.setRegistryName("http://www.color.org");
        document.getDocumentCatalog().addOutputIntent(intent);
    }

    @Override
    public void close() {
        try {
            document.close();
        } catch (IOException e) {
            throw new UncheckedIOException("a document in memory cannot be let go", e);
        }
    }
}

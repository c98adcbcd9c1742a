package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Contrast of everything the window writes and draws with, by day and by night, from the style sheet itself. Formulas
 * and thresholds: Web Content Accessibility Guidelines (WCAG) 2.1, "relative luminance", "contrast ratio", success
 * criteria 1.4.3 (text, AA: 4.5) and 1.4.11 (what is not text: 3).
 */
class ContrastTest {
    private static final Pattern COLOUR = Pattern.compile("([a-z-]+):\\s*#([0-9a-f]{6})\\s*;");
    private static final double TEXT = 4.5;
    private static final double NOT_TEXT = 3;

    private static Map<String, Integer> theme(String selector) throws Exception {
        String css;
        try (InputStream in =
                Objects.requireNonNull(BenchWindow.class.getResourceAsStream("/railproof/ui/window.css"))) {
            css = new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
        int start = css.indexOf("\n" + selector + " {");
        String block = css.substring(start, css.indexOf('}', start));
        Map<String, Integer> colours = new TreeMap<>();
        Matcher found = COLOUR.matcher(block);
        while (found.find()) {
            colours.put(found.group(1), Integer.parseInt(found.group(2), 16));
        }
        return colours;
    }

    /** WCAG 2.1, definition of relative luminance (for sRGB). */
    private static double luminance(int rgb) {
        return 0.2126 * linear(rgb >> 16 & 0xFF) + 0.7152 * linear(rgb >> 8 & 0xFF) + 0.0722 * linear(rgb & 0xFF);
    }

    private static double linear(int code) {
        double c = code / 255.0;
        return c <= 0.03928 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4);
    }

    private static double ratio(int one, int other) {
        double lighter = Math.max(luminance(one), luminance(other));
        double darker = Math.min(luminance(one), luminance(other));
        return (lighter + 0.05) / (darker + 0.05);
    }

    @Test
    void theFormulaGivesThePublishedExtremes() {
        // WCAG 2.1: ratios range from 1 to 21; #767676 on white is the well-known lightest grey that keeps 4.5
        assertEquals(21, ratio(0x000000, 0xFFFFFF), 1e-9);
        assertEquals(1, ratio(0x123456, 0x123456), 1e-9);
        assertEquals(4.54, ratio(0x767676, 0xFFFFFF), 0.005);
    }

    @ParameterizedTest
    @CsvSource({
        "ink, paper",
        "ink, field",
        "ink, band",
        "faint, paper",
        "faint, field",
        "alarm, paper",
        "alarm, field",
        "alarm, band",
        "on-alarm, alarm",
        "paper, ink",
        "paper, mark"
    })
    void textIsReadable(String text, String ground) throws Exception {
        assertContrast(text, ground, TEXT);
    }

    @ParameterizedTest
    @CsvSource({"edge, paper", "edge, field", "mark, paper", "mark, field", "mark, band", "ink, band", "alarm, paper"})
    void edgesAndCurvesAreSeen(String line, String ground) throws Exception {
        assertContrast(line, ground, NOT_TEXT);
    }

    private static void assertContrast(String front, String ground, double least) throws Exception {
        for (String selector : Stream.of(".frame", ".frame.dark").toList()) {
            Map<String, Integer> colours = theme(selector);
            Integer one = Objects.requireNonNull(colours.get(front), front);
            Integer other = Objects.requireNonNull(colours.get(ground), ground);
            double found = ratio(one, other);
            assertTrue(found >= least, selector + ": " + front + " on " + ground + " has only " + found);
        }
    }

    @Test
    void paintedCurvesHaveTheStyleSheetsColours() throws Exception {
        assertEquals(theme(".frame").get("mark"), Inks.LIGHT_MARK & 0xFFFFFF);
        assertEquals(theme(".frame.dark").get("mark"), Inks.DARK_MARK & 0xFFFFFF);
    }
}

package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import railproof.wire.FrameKind;

/** The message table is the authority: a field renamed, retyped, moved or renumbered on either side fails here. */
class MessageTableTest {
    @Test
    void javaLayoutsAgreeWithTheTableFieldByField() throws IOException {
        List<String> table = new ArrayList<>();
        for (CSVRecord row : rows()) {
            table.add(String.join(
                    " ",
                    row.get("id"),
                    row.get("name"),
                    row.get("direction"),
                    row.get("offset"),
                    row.get("field"),
                    row.get("type"),
                    row.get("repeat")));
        }
        List<String> java = new ArrayList<>();
        for (BoardMessage message : BoardMessage.values()) {
            for (FrameKind kind : FrameKind.values()) {
                if (message.kinds().contains(kind)) {
                    java.addAll(lines(message, kind));
                }
            }
        }
        assertEquals(String.join("\n", table), String.join("\n", java));
    }

    private static List<String> lines(BoardMessage message, FrameKind kind) {
        String start = String.format(
                Locale.ROOT, "0x%04x %s %s ", message.id(), message, kind.name().toLowerCase(Locale.ROOT));
        PayloadLayout layout = message.layout(kind);
        if (layout.fields().isEmpty()) {
            return List.of(start + "   ");
        }
        return layout.fields().stream()
                .map(f -> {
                    int offset = f.group().isEmpty() ? f.offset() : layout.fixedLength() + f.offset();
                    return start + offset + " " + f.name() + " " + f.typeText() + " " + f.repeatText();
                })
                .toList();
    }

    @Test
    void noReleasedFieldWasRenumberedMovedRetypedOrRemoved() throws IOException {
        List<String> table = new ArrayList<>();
        for (CSVRecord row : rows()) {
            table.add(String.join(
                    " ",
                    row.get("id"),
                    row.get("name"),
                    row.get("direction"),
                    row.get("offset"),
                    row.get("field"),
                    row.get("type"),
                    row.get("repeat")));
        }
        int released = 0;
        try (var files = Files.list(Path.of("firmware-protocol", "released"))) {
            for (Path file : files.toList()) {
                for (String line : Files.readAllLines(file, StandardCharsets.UTF_8)) {
                    assertTrue(line.startsWith("#") || table.contains(line), file + ": gone from the table: " + line);
                    released++;
                }
            }
        }
        assertTrue(released > 200, "only " + released + " lines");
    }

    @Test
    void theHeaderOfTheFirmwareHasTheChecksumAndTheIdsOfTheTable() throws IOException {
        String header = Files.readString(
                Path.of("firmware-protocol", "firmware", "core", "messages.h"), StandardCharsets.UTF_8);
        assertTrue(
                header.contains(String.format(Locale.ROOT, "#define RP_TABLE_CRC 0x%08Xu\n", BoardMessage.tableCrc())));
        for (BoardMessage message : BoardMessage.values()) {
            assertTrue(header.contains(String.format(Locale.ROOT, "#define RP_%s 0x%04xu\n", message, message.id())));
        }
    }

    @Test
    void theChecksumOfTheTableIsTheOneInThePage() throws IOException {
        StringBuilder text = new StringBuilder();
        for (CSVRecord row : rows()) {
            text.append(row.get("id").substring(2))
                    .append(',')
                    .append(String.join(
                            ",",
                            row.get("name"),
                            row.get("direction"),
                            row.get("field"),
                            row.get("type"),
                            row.get("repeat")))
                    .append('\n');
        }
        java.util.zip.CRC32 crc = new java.util.zip.CRC32();
        crc.update(text.toString().getBytes(StandardCharsets.UTF_8));

        assertEquals(crc.getValue(), BoardMessage.tableCrc());
        String page = Files.readString(Path.of("firmware-protocol", "PROTOCOL.md"), StandardCharsets.UTF_8);
        String printed = String.format(Locale.ROOT, "0x%08X", crc.getValue());
        assertTrue(page.contains(printed), "PROTOCOL.md does not state " + printed);
    }

    @Test
    void everyRangeInTheTableFitsItsType() throws IOException {
        for (CSVRecord row : rows()) {
            if (row.get("min").isEmpty()) {
                continue;
            }
            FieldType type = FieldType.valueOf(row.get("type").toUpperCase(Locale.ROOT));
            for (String bound : List.of(row.get("min"), row.get("max"))) {
                byte[] bytes = new byte[8];
                type.write(bytes, 0, type == FieldType.U64 ? Long.parseUnsignedLong(bound) : Long.parseLong(bound));
            }
        }
    }

    static List<CSVRecord> rows() throws IOException {
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get();
        try (Reader reader = Files.newBufferedReader(Path.of("firmware-protocol", "messages.csv"));
                CSVParser parser = format.parse(reader)) {
            return parser.getRecords();
        }
    }
}

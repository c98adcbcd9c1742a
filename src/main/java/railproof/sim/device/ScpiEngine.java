package railproof.sim.device;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;

/**
 * The parser of a simulated SCPI device: bytes into lines, lines into program message units, units into calls, replies
 * back. Written from IEEE 488.2 chapters 7 and 8 and SCPI-1999 volume 1 chapter 6; shares nothing with the host's
 * client. Thread: confined.
 */
final class ScpiEngine {
    /** Bytes of one line the input buffer holds. */
    static final int INPUT_BUFFER = 256;

    /** Carries out a setting. */
    interface Setter {
        void set(ScpiParameters parameters) throws ScpiRefusal;
    }

    /** Answers a query. */
    interface Getter {
        String get(ScpiParameters parameters) throws ScpiRefusal;
    }

    private record Setting(ScpiHeader header, Setter setter) {}

    private record Query(ScpiHeader header, Getter getter) {}

    private final List<Setting> settings = new ArrayList<>();
    private final List<Query> queries = new ArrayList<>();
    private final ByteArrayOutputStream line = new ByteArrayOutputStream(INPUT_BUFFER);
    private final ScpiStatus status;
    private final ScpiCommon common;
    private final Runnable heard;
    private boolean overrun;

    /**
     * An engine without commands of its own.
     *
     * @param identity reply to *IDN?
     * @param reset what *RST does
     * @param heard told of every message that was understood
     */
    ScpiEngine(ScpiStatus status, String identity, Runnable reset, Runnable heard) {
        this.status = status;
        this.common = new ScpiCommon(status, identity, reset);
        this.heard = heard;
        common.installStatus(this);
    }

    void on(String header, Setter setter) {
        settings.add(new Setting(new ScpiHeader(header), setter));
    }

    void onQuery(String header, Getter getter) {
        queries.add(new Query(new ScpiHeader(header), getter));
    }

    /** Forgets a half line, as a power cycle does. */
    void forget() {
        line.reset();
        overrun = false;
    }

    /** Takes bytes as they come; LF or CR ends a line, CR alone before LF gives an empty line, which means nothing. */
    void receive(byte[] bytes, Consumer<byte[]> reply) {
        for (byte b : bytes) {
            if (b == '\n' || b == '\r') {
                String text = line.toString(StandardCharsets.ISO_8859_1);
                line.reset();
                if (overrun) {
                    overrun = false;
                    status.report(-363, "Input buffer overrun");
                } else if (!text.isBlank()) {
                    execute(text, reply);
                }
            } else if (line.size() < INPUT_BUFFER) {
                line.write(b);
            } else {
                overrun = true;
            }
        }
    }

    private void execute(String text, Consumer<byte[]> reply) {
        List<String> answers = new ArrayList<>();
        String path = "";
        boolean understood = true;
        boolean identified = false;
        for (String unit : split(text, ';')) {
            if (unit.isBlank()) {
                continue;
            }
            try {
                String header = headerOf(unit);
                boolean isCommon = header.startsWith("*");
                String absolute = isCommon ? header : header.startsWith(":") ? header.substring(1) : path + header;
                if (identified && header.endsWith("?")) {
                    throw new ScpiRefusal(-440, "Query UNTERMINATED after indefinite response");
                }
                ScpiParameters parameters = parametersOf(unit.strip().substring(header.length()));
                if (!isCommon) {
                    path = absolute.substring(0, absolute.lastIndexOf(':') + 1);
                }
                if (header.endsWith("?")) {
                    answers.add(answer(absolute.substring(0, absolute.length() - 1), isCommon, parameters));
                    identified |= header.equalsIgnoreCase("*IDN?");
                } else {
                    carryOut(absolute, isCommon, parameters);
                }
            } catch (ScpiRefusal e) {
                status.report(e.code(), e.text());
                if (e.commandError()) {
                    understood = false;
                    break;
                }
            }
        }
        if (understood) {
            heard.run();
        }
        if (!answers.isEmpty()) {
            reply.accept((String.join(";", answers) + "\n").getBytes(StandardCharsets.US_ASCII));
        }
    }

    private String answer(String header, boolean isCommon, ScpiParameters parameters) throws ScpiRefusal {
        if (isCommon) {
            return common.query(header.toUpperCase(Locale.ROOT), parameters);
        }
        List<String> mnemonics = ScpiHeader.mnemonics(header);
        for (Query query : queries) {
            if (query.header().matches(mnemonics)) {
                return query.getter().get(parameters);
            }
        }
        throw new ScpiRefusal(-113, "Undefined header");
    }

    private void carryOut(String header, boolean isCommon, ScpiParameters parameters) throws ScpiRefusal {
        if (isCommon) {
            common.command(header.toUpperCase(Locale.ROOT), parameters);
            return;
        }
        List<String> mnemonics = ScpiHeader.mnemonics(header);
        for (Setting setting : settings) {
            if (setting.header().matches(mnemonics)) {
                setting.setter().set(parameters);
                return;
            }
        }
        throw new ScpiRefusal(-113, "Undefined header");
    }

    private static String headerOf(String unit) throws ScpiRefusal {
        String text = unit.strip();
        for (int i = 0; i < text.length(); i++) {
            if (text.charAt(i) > '~') {
                throw new ScpiRefusal(-101, "Invalid character");
            }
        }
        int end = 0;
        while (end < text.length() && text.charAt(end) > ' ') {
            end++;
        }
        return text.substring(0, end);
    }

    private static ScpiParameters parametersOf(String text) throws ScpiRefusal {
        if (text.isBlank()) {
            return new ScpiParameters(List.of());
        }
        List<String> values = new ArrayList<>();
        for (String value : split(text, ',')) {
            if (value.isBlank()) {
                throw new ScpiRefusal(-103, "Invalid separator");
            }
            values.add(value.strip());
        }
        return new ScpiParameters(values);
    }

    /** Splits outside quotes. */
    private static List<String> split(String text, char separator) {
        List<String> parts = new ArrayList<>();
        char quote = 0;
        int start = 0;
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (quote != 0) {
                quote = c == quote ? 0 : quote;
            } else if (c == '"' || c == '\'') {
                quote = c;
            } else if (c == separator) {
                parts.add(text.substring(start, i));
                start = i + 1;
            }
        }
        parts.add(text.substring(start));
        return parts;
    }
}

package railproof.record;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.profile.SourceText;
import railproof.run.ChannelAccuracy;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Stage;
import railproof.run.Waveform;

/** Runs full of what breaks files: extreme doubles, quotes, line ends, formulas, text from all over Unicode. */
final class RandomRuns {
    private static final List<String> NASTY = List.of(
            "",
            " ",
            "\"",
            "\"\"",
            ",",
            "a,b",
            "\r\n",
            "\n",
            "\r",
            "line one\nline two\r\n",
            "=1+1",
            "+5 V",
            "-12 V",
            "@SUM(A1)",
            "\t=1",
            "  =HYPERLINK(\"http://x\")",
            "'",
            "'=1",
            "''",
            "＝1",
            "µΩ°C",
            "日本語",
            "\uD83D\uDD0C",
            "e\u0301",
            "\u0000",
            "\u2028",
            "</script>",
            "{\"a\":1}",
            "x\\n",
            "#",
            "trailing ",
            "\uFEFFmark");
    private static final double[] EXTREME = {
        0.0,
        -0.0,
        1.0,
        -1.0,
        0.1,
        1e-300,
        Double.MIN_VALUE,
        Double.MAX_VALUE,
        -Double.MAX_VALUE,
        Math.PI,
        5.0000001,
        Math.nextUp(5.0),
        Double.MIN_NORMAL,
        1e22,
        Double.parseDouble("1e23"),
        2.0e-3
    };

    private final Random random;

    RandomRuns(long seed) {
        random = new Random(seed);
    }

    /** The events of a run, the end among them. */
    record Script(RunHeader header, List<RunEvent> events, RunData whole) {}

    Script script(int points) {
        List<RunEvent> events = new ArrayList<>();
        List<Point> taken = new ArrayList<>();
        List<Waveform> waveforms = new ArrayList<>();
        List<RunEvent> others = new ArrayList<>();
        for (int i = 0; i < points; i++) {
            OptionalInt capture = OptionalInt.empty();
            if (random.nextInt(3) == 0) {
                Waveform waveform = waveform(waveforms.size());
                waveforms.add(waveform);
                events.add(new RunEvent.WaveformTaken(number(), waveform));
                capture = OptionalInt.of(waveform.id());
            }
            if (random.nextInt(2) == 0) {
                RunEvent other = other();
                others.add(other);
                events.add(other);
            }
            Point point = point(2 * i, capture);
            taken.add(point);
            events.add(new RunEvent.PointTaken(point.elapsedS(), point));
        }
        RunOutcome outcome = new RunOutcome(
                pick(RunOutcome.End.values(), 4), text(), List.of(text(), text()), pick(SafeState.values(), 3));
        RunEvent end = new RunEvent.RunEnded(number(), Instant.parse("2026-11-25T11:00:00.123456789Z"), outcome);
        events.add(end);
        others.add(end);
        RunHeader header = header();
        return new Script(header, events, new RunData(header, taken, waveforms, others, outcome));
    }

    RunHeader header() {
        Instant start = Instant.parse("2026-11-25T10:15:30Z").plusNanos(random.nextInt(1_000_000_000));
        String serial = text();
        Stage stage = pick(Stage.values(), 2);
        return new RunHeader(
                RunIds.of(start, serial, stage),
                serial,
                stage,
                text(),
                start,
                "0.1.0",
                source("profile.toml", text() + "\nid = \"lab-counter-12\"\r\n"),
                source("built in: simulated", text()),
                random.nextBoolean() ? new SourceText("", "", "") : source("cal.toml", ""),
                random.nextBoolean(),
                text(),
                List.of(text(), text()));
    }

    static SourceText source(String name, String text) {
        return new SourceText(name, text, Digests.sha256(text.getBytes(StandardCharsets.UTF_8)));
    }

    Point point(int index, OptionalInt waveform) {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        for (Quantity quantity : Quantity.values()) {
            switch (random.nextInt(3)) {
                case 0 -> readings.put(quantity, new Missing("why: " + text()));
                case 1 -> readings.put(quantity, measured(quantity));
                default -> {
                    // not attempted
                }
            }
        }
        List<Setpoint> asked = List.of(
                Setpoint.noLoad(number()),
                new Setpoint("CC", number(), number()),
                new Setpoint("CV", number(), number()),
                new Setpoint("CR", number(), number()));
        Section section = pick(Section.values(), 5);
        return new Point(
                index,
                section,
                text(),
                asked.get(random.nextInt(asked.size())),
                number(),
                random.nextBoolean(),
                readings,
                waveform,
                text());
    }

    private Measured measured(Quantity quantity) {
        double dof = random.nextBoolean() ? Double.POSITIVE_INFINITY : 1 + 100 * random.nextDouble();
        return new Measured(
                number(),
                Math.abs(number()),
                Math.abs(number()),
                quantity == Quantity.OUTPUT ? Math.abs(number()) : 0,
                dof,
                quantity.unit());
    }

    private Waveform waveform(int id) {
        int samples = random.nextInt(5);
        List<Waveform.Trace> traces = new ArrayList<>();
        for (String column : List.of("output_V", "raw_V")) {
            double[] values = new double[samples];
            Arrays.setAll(values, i -> number());
            traces.add(new Waveform.Trace(column, values));
        }
        double rateHz = 1 + 1e5 * random.nextDouble();
        return new Waveform(id, Section.LOAD_SWEEP, text(), number(), rateHz, traces);
    }

    private RunEvent other() {
        return switch (random.nextInt(5)) {
            case 4 -> new RunEvent.ChannelUsed(number(), accuracy());
            case 0 -> new RunEvent.SectionStarted(number(), Section.RECOVERY, text(), random.nextInt(100));
            case 1 -> new RunEvent.PromptShown(number(), text());
            case 2 -> new RunEvent.PromptAnswered(number(), text());
            default -> new RunEvent.Note(number(), pick(RunEvent.Note.Level.values(), 2), text());
        };
    }

    private ChannelAccuracy accuracy() {
        LocalDate on = LocalDate.ofEpochDay(random.nextInt(30_000));
        return new ChannelAccuracy(
                text(),
                pick(Quantity.values(), Quantity.values().length),
                text(),
                number(),
                number(),
                number(),
                number(),
                number(),
                number(),
                number(),
                number(),
                number(),
                random.nextBoolean()
                        ? Optional.empty()
                        : Optional.of(new ChannelAccuracy.Calibrated(on, on.plusDays(random.nextInt(1000)), text())));
    }

    private <T> T pick(T[] values, int of) {
        return values[random.nextInt(of)];
    }

    double number() {
        if (random.nextInt(3) == 0) {
            return EXTREME[random.nextInt(EXTREME.length)];
        }
        double any = Double.longBitsToDouble(random.nextLong());
        return Double.isFinite(any) ? any : random.nextGaussian();
    }

    String text() {
        StringBuilder text = new StringBuilder();
        int parts = random.nextInt(4);
        for (int i = 0; i < parts; i++) {
            if (random.nextBoolean()) {
                text.append(NASTY.get(random.nextInt(NASTY.size())));
            } else {
                int point = random.nextInt(0x3000);
                text.appendCodePoint(point);
            }
        }
        return text.toString();
    }
}

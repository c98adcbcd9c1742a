package railproof.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.run.Point;
import railproof.run.RunEvent;
import railproof.run.RunEvent.BurnInPlanned;
import railproof.run.RunEvent.ChannelUsed;
import railproof.run.RunEvent.Note;
import railproof.run.RunEvent.PointTaken;
import railproof.run.RunEvent.PromptAnswered;
import railproof.run.RunEvent.PromptShown;
import railproof.run.RunEvent.Resumed;
import railproof.run.RunEvent.RunEnded;
import railproof.run.RunEvent.SectionStarted;
import railproof.run.RunEvent.WaveformTaken;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Waveform;

/** Events, outcomes and their words as JSON. */
final class EventJson {
    static final String FILE = "events.jsonl";

    private static final String EVENT = "event";
    private static final String ELAPSED = "elapsed_s";
    private static final String SECTION = "section";
    private static final String RAIL = "rail";

    private EventJson() {}

    static ObjectNode of(RunEvent event) {
        ObjectNode json = Json.object();
        if (event instanceof SectionStarted started) {
            head(json, "section-started", started)
                    .put(SECTION, started.section().label())
                    .put(RAIL, started.rail())
                    .put("points_planned", started.pointsPlanned());
        } else if (event instanceof PointTaken taken) {
            Point point = taken.point();
            head(json, "point-taken", taken)
                    .put("index", point.index())
                    .put(SECTION, point.section().label())
                    .put(RAIL, point.rail())
                    .put("settled", point.settled())
                    .put("note", point.note());
            ObjectNode readings = json.putObject("readings");
            point.readings().forEach((quantity, reading) -> readings.set(quantity.column(), ReadingJson.of(reading)));
        } else if (event instanceof WaveformTaken taken) {
            Waveform waveform = taken.waveform();
            head(json, "waveform-taken", taken)
                    .put("waveform", waveform.id())
                    .put(SECTION, waveform.section().label())
                    .put(RAIL, waveform.rail())
                    .put("start_s", Double.parseDouble(Cells.finite("the start", waveform.elapsedS())))
                    .put("rate_Hz", waveform.rateHz())
                    .put("samples", WaveformTable.samples(waveform));
            List<String> columns =
                    waveform.traces().stream().map(Waveform.Trace::column).toList();
            json.set("columns", Json.texts(columns));
        } else if (event instanceof PromptShown shown) {
            head(json, "prompt-shown", shown).put("text", shown.text());
        } else if (event instanceof PromptAnswered answered) {
            head(json, "prompt-answered", answered).put("answer", answered.answer());
        } else if (event instanceof Note note) {
            head(json, "note", note).put("level", word(note.level())).put("text", note.text());
        } else if (event instanceof ChannelUsed used) {
            head(json, "channel-used", used).setAll(ChannelJson.of(used.accuracy()));
        } else if (event instanceof BurnInPlanned planned) {
            number(head(json, "burn-in-planned", planned), "asked_s", planned.askedS());
        } else if (event instanceof Resumed resumed) {
            head(json, "resumed", resumed).put("resumed_at", resumed.wallTime().toString());
            number(json, "broke_off_s", resumed.brokeOffS());
            number(json, "gap_s", resumed.gapS());
        } else if (event instanceof RunEnded ended) {
            head(json, "run-ended", ended).put("ended_at", ended.wallTime().toString());
            json.setAll(of(ended.outcome()));
        }
        return json;
    }

    static ObjectNode of(RunOutcome outcome) {
        ObjectNode json = Json.object()
                .put("end", word(outcome.end()))
                .put("cause", outcome.cause())
                .put("safe_state", word(outcome.safeState()));
        json.set("later_causes", Json.texts(outcome.later()));
        return json;
    }

    private static void number(ObjectNode json, String key, double value) {
        json.put(key, Double.parseDouble(Cells.finite(key, value)));
    }

    private static ObjectNode head(ObjectNode json, String name, RunEvent event) {
        Cells.finite("the time of an event", event.elapsedS());
        return json.put(EVENT, name).put(ELAPSED, event.elapsedS());
    }

    /** What a line of the events file says: an event, or the announcement of a capture. */
    record Line(Optional<RunEvent> event, Optional<WaveformTable.Announced> waveform) {
        static Line of(RunEvent event) {
            return new Line(Optional.of(event), Optional.empty());
        }
    }

    static Line line(JsonView json, RunFormat format) {
        double elapsedS = json.number(ELAPSED);
        String name = json.text(EVENT);
        return switch (name) {
            case "section-started" ->
                Line.of(new SectionStarted(elapsedS, section(json), json.text(RAIL), json.count("points_planned")));
            case "prompt-shown" -> Line.of(new PromptShown(elapsedS, json.text("text")));
            case "prompt-answered" -> Line.of(new PromptAnswered(elapsedS, json.text("answer")));
            case "note" ->
                Line.of(new Note(
                        elapsedS, constant(json, "level", Note.Level.values(), Note.Level.INFO), json.text("text")));
            case "channel-used" -> Line.of(new ChannelUsed(elapsedS, ChannelJson.read(json, format)));
            case "burn-in-planned" -> Line.of(new BurnInPlanned(elapsedS, json.number("asked_s")));
            case "resumed" ->
                Line.of(new Resumed(
                        elapsedS, json.number("broke_off_s"), json.number("gap_s"), instant(json, "resumed_at")));
            case "waveform-taken" -> new Line(Optional.empty(), announced(json));
            default -> {
                json.bad(EVENT, "is no event of this format: \"" + name + "\"");
                yield new Line(Optional.empty(), Optional.empty());
            }
        };
    }

    private static Optional<WaveformTable.Announced> announced(JsonView json) {
        int id = json.count("waveform");
        Section section = section(json);
        String rail = json.text(RAIL);
        double startS = json.number("start_s");
        double rateHz = json.number("rate_Hz");
        int samples = json.count("samples");
        List<String> columns = json.texts("columns");
        return json.built(
                () -> Optional.of(new WaveformTable.Announced(id, section, rail, startS, rateHz, samples, columns)),
                Optional.empty());
    }

    static RunEnded ended(JsonView json) {
        RunOutcome.End end = constant(json, "end", RunOutcome.End.values(), RunOutcome.End.FAULTED);
        if (end == RunOutcome.End.INCOMPLETE) {
            json.bad("end", "incomplete is never written; a run without an end has no such file");
        }
        RunOutcome outcome = new RunOutcome(
                end,
                json.text("cause"),
                json.texts("later_causes"),
                constant(json, "safe_state", SafeState.values(), SafeState.UNKNOWN));
        return new RunEnded(json.number(ELAPSED), instant(json, "ended_at"), outcome);
    }

    static Instant instant(JsonView json, String key) {
        return json.parsed(key, EventJson::instant, "a time such as 2026-11-25T10:15:30Z", Instant.EPOCH);
    }

    private static Optional<Instant> instant(String text) {
        try {
            return Optional.of(Instant.parse(text));
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    private static Section section(JsonView json) {
        return json.parsed(SECTION, Section::ofLabel, "a section such as load-sweep", Section.NO_LOAD);
    }

    /** An enum constant as written in files: lower case, with dashes. */
    static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Reads back {@link #word}. */
    static <E extends Enum<E>> E constant(JsonView json, String key, E[] constants, E fallback) {
        List<String> words = Arrays.stream(constants).map(EventJson::word).toList();
        return json.parsed(
                key,
                text -> words.contains(text) ? Optional.of(constants[words.indexOf(text)]) : Optional.empty(),
                "one of " + String.join(", ", words),
                fallback);
    }
}

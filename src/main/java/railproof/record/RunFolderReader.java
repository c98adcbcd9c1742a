package railproof.record;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import railproof.base.BadFileException;
import railproof.base.DiskWords;
import railproof.base.Problem;
import railproof.run.Point;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunEvent.Note;
import railproof.run.RunEvent.RunEnded;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.Waveform;

/** One reading of one run folder. */
final class RunFolderReader {
    /** Largest file that is written in one piece: a capture of a board's whole memory in all channels. */
    private static final int MAX_BYTES = 64 << 20;
    /** Largest file that grows: a week's burn-in of several rails takes half of it. */
    private static final int MAX_GROWING_BYTES = 256 << 20;

    private final Path folder;
    private final List<Problem> problems = new ArrayList<>();
    private final List<String> notes = new ArrayList<>();
    private final List<RunEvent> events = new ArrayList<>();
    private final List<Waveform> waveforms = new ArrayList<>();
    private boolean ended;
    private RunFormat format = RunFormat.CURRENT;

    RunFolderReader(Path folder) {
        this.folder = folder;
    }

    RunData read() throws BadFileException {
        Optional<RunHeader> header = text(RunJson.FILE, false)
                .flatMap(text -> Json.parse(RunJson.FILE, 1, text, problems))
                .map(this::header);
        ended = Files.exists(folder.resolve(RunFolder.END_FILE));
        Optional<RunEnded> end = ended
                ? text(RunFolder.END_FILE, false)
                        .flatMap(text -> Json.parse(RunFolder.END_FILE, 1, text, problems))
                        .map(EventJson::ended)
                : Optional.empty();
        text(EventJson.FILE, true).ifPresent(this::events);
        List<Point> points = text(PointsTable.FILE, true).map(this::points).orElse(List.of());
        checkWaveformsOf(points);
        noteLeftovers();
        if (header.isEmpty() || !problems.isEmpty()) {
            throw new BadFileException(located());
        }
        double lastS = events.isEmpty() ? 0 : events.get(events.size() - 1).elapsedS();
        double noteS = points.isEmpty()
                ? lastS
                : Math.max(lastS, points.get(points.size() - 1).elapsedS());
        notes.forEach(note -> events.add(new Note(noteS, Note.Level.WARNING, note)));
        end.ifPresent(events::add);
        RunOutcome outcome = end.map(RunEnded::outcome).orElse(RunFolder.WITHOUT_END);
        return new RunData(header.get(), points, waveforms, events, outcome);
    }

    private RunHeader header(JsonView json) {
        RunJson.Head head = RunJson.read(json, file -> text(file, false));
        format = head.format();
        return head.header();
    }

    /** How the run's files are written, once it was read. */
    RunFormat format() {
        return format;
    }

    private List<Point> points(String text) {
        List<Point> points = new ArrayList<>();
        PointsTable.read(text, format, problems, points)
                .torn()
                .ifPresent(at -> torn(PointsTable.FILE, at.line(), at.column()));
        return points;
    }

    private void events(String text) {
        int start = 0;
        for (int line = 1; start < text.length(); line++) {
            int end = text.indexOf('\n', start);
            if (end < 0) {
                torn(EventJson.FILE, line, 1);
                return;
            }
            Json.parse(EventJson.FILE, line, text.substring(start, end), problems)
                    .map(json -> EventJson.line(json, format))
                    .ifPresent(this::event);
            start = end + 1;
        }
    }

    private void event(EventJson.Line line) {
        line.event().ifPresent(events::add);
        line.waveform().ifPresent(announced -> {
            String file = WaveformTable.FOLDER + "/" + WaveformTable.fileName(announced.id());
            Optional<CsvText> csv = text(file, false).map(text -> CsvText.parse(file, text, problems));
            csv.flatMap(CsvText::torn)
                    .ifPresent(at -> problems.add(
                            new Problem(file, at.line(), at.column(), "", "the last line is not finished")));
            csv.ifPresent(c -> waveforms.add(WaveformTable.read(file, c, announced, problems)));
        });
    }

    private void checkWaveformsOf(List<Point> points) {
        Set<Integer> known = new HashSet<>();
        for (Waveform waveform : waveforms) {
            if (!known.add(waveform.id())) {
                problems.add(new Problem(EventJson.FILE, 0, 0, "waveform", "id " + waveform.id() + " stands twice"));
            }
        }
        for (Point point : points) {
            if (point.waveform().isPresent() && !known.contains(point.waveform().getAsInt())) {
                String text = "point " + point.index() + " refers to waveform "
                        + point.waveform().getAsInt() + ", which is not in the record";
                afterKill(PointsTable.FILE, 0, 0, text);
            }
        }
    }

    private void noteLeftovers() {
        Path waveformFolder = folder.resolve(WaveformTable.FOLDER);
        Set<String> known = new HashSet<>();
        waveforms.forEach(waveform -> known.add(WaveformTable.fileName(waveform.id())));
        if (!problems.isEmpty() || !Files.isDirectory(waveformFolder)) {
            return;
        }
        try (Stream<Path> files = Files.list(waveformFolder)) {
            files.map(file -> String.valueOf(file.getFileName()))
                    .filter(name -> !known.contains(name))
                    .sorted()
                    .forEach(name -> afterKill(
                            WaveformTable.FOLDER + "/" + name, 0, 0, "no event refers to this file; it was not read"));
        } catch (IOException e) {
            problems.add(new Problem(WaveformTable.FOLDER, 0, 0, "", "cannot be listed: " + DiskWords.of(e)));
        }
    }

    private void torn(String file, int line, int column) {
        afterKill(file, line, column, "the last line is not finished; it was dropped");
    }

    /** What a kill can leave is a note in a record without an end, and a problem in one with an end. */
    private void afterKill(String file, int line, int column, String message) {
        Problem problem = new Problem(file, line, column, "", message);
        if (ended) {
            problems.add(problem);
        } else {
            notes.add(problem.text());
        }
    }

    /** The file's text; a file that grew while the run went may break off inside a character. */
    private Optional<String> text(String file, boolean growing) {
        Path path = folder.resolve(file);
        try (InputStream in = Files.newInputStream(path)) {
            int most = growing ? MAX_GROWING_BYTES : MAX_BYTES;
            byte[] bytes = Files.isRegularFile(path) ? in.readNBytes(most + 1) : new byte[0];
            if (!Files.isRegularFile(path) || bytes.length > most) {
                String what = Files.isRegularFile(path)
                        ? "is larger than " + most + " bytes, the most allowed"
                        : "is no file";
                problems.add(new Problem(file, 0, 0, "", what));
                return Optional.empty();
            }
            Utf8.Result result = Utf8.decodeUpTo(bytes);
            if (growing && Utf8.endsInsideCharacter(bytes, result.goodBytes())) {
                // the unfinished line this leaves is reported by whoever parses the text
                return Optional.of(result.text());
            }
            return Optional.of(Utf8.decode(file, bytes));
        } catch (BadFileException e) {
            problems.addAll(e.problems());
        } catch (NoSuchFileException e) {
            String hint = file.equals(RunJson.FILE) ? "; without it the folder is no run, or was never started" : "";
            problems.add(new Problem(file, 0, 0, "", "is missing" + hint));
        } catch (IOException e) {
            problems.add(new Problem(file, 0, 0, "", "cannot be read: " + DiskWords.of(e)));
        }
        return Optional.empty();
    }

    /** The problems with the folder before each file name. */
    private List<Problem> located() {
        return problems.stream()
                .map(p -> new Problem(folder.resolve(p.file()).toString(), p.line(), p.column(), p.key(), p.message()))
                .toList();
    }
}

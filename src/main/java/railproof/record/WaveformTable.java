package railproof.record;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import railproof.base.Problem;
import railproof.record.CsvText.Cell;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.run.Waveform.Trace;

/**
 * The layout of {@code waveforms/0000.csv}: time since the first sample, then one column per trace. Everything else
 * about a capture stands in its line of the events file.
 */
final class WaveformTable {
    static final String FOLDER = "waveforms";

    private static final String TIME = "time_s";
    private static final Pattern NUMBER = Pattern.compile("-?\\d+(\\.\\d*)?([eE][+-]?\\d{1,4})?");

    private WaveformTable() {}

    /** What the events file says of a capture. */
    record Announced(
            int id, Section section, String rail, double startS, double rateHz, int samples, List<String> columns) {
        Announced {
            if (!(rateHz > 0) || Double.isInfinite(rateHz)) {
                throw new IllegalArgumentException("rate_Hz must be greater than 0, got " + rateHz);
            }
            columns = List.copyOf(columns);
        }
    }

    /** The file's name inside the folder of waveforms. */
    static String fileName(int id) {
        return String.format(Locale.ROOT, "%04d.csv", id);
    }

    /** The number of samples, the same for all traces. */
    static int samples(Waveform waveform) {
        int samples = waveform.traces().isEmpty() ? 0 : waveform.traces().get(0).samples().length;
        for (Trace trace : waveform.traces()) {
            if (trace.samples().length != samples) {
                throw new IllegalArgumentException(
                        "all traces of waveform " + waveform.id() + " must have the same length");
            }
        }
        return samples;
    }

    /** The whole file. */
    static String text(Waveform waveform) {
        List<String> heading = new ArrayList<>(List.of(TIME));
        waveform.traces().forEach(trace -> heading.add(Cells.text(trace.column())));
        StringBuilder text = new StringBuilder(Cells.line(heading));
        int samples = samples(waveform);
        for (int i = 0; i < samples; i++) {
            // numbers need no quoting, and captures are long
            text.append(Cells.number(i / waveform.rateHz()));
            for (Trace trace : waveform.traces()) {
                text.append(',').append(Cells.finite(trace.column(), trace.samples()[i]));
            }
            text.append("\r\n");
        }
        return text.toString();
    }

    /** Takes the file apart; what does not fit the announcement is added to {@code problems}. */
    static Waveform read(String file, CsvText csv, Announced announced, List<Problem> problems) {
        double[][] samples = new double[announced.columns().size()][announced.samples()];
        List<String> heading = new ArrayList<>(List.of(TIME));
        heading.addAll(announced.columns());
        List<List<Cell>> rows = csv.rows();
        List<String> found = rows.isEmpty()
                ? List.of()
                : rows.get(0).stream().map(cell -> Cells.unguarded(cell.text())).toList();
        if (!found.equals(heading)) {
            problems.add(new Problem(file, 1, 1, "", "the heading must be " + heading + ", found " + found));
        } else if (rows.size() - 1 != announced.samples()) {
            problems.add(new Problem(
                    file, 0, 0, "", "must hold " + announced.samples() + " samples, found " + (rows.size() - 1)));
        } else {
            for (int i = 0; i < announced.samples(); i++) {
                sample(file, rows.get(i + 1), i, samples, problems);
            }
        }
        List<Trace> traces = new ArrayList<>();
        for (int k = 0; k < samples.length; k++) {
            traces.add(new Trace(announced.columns().get(k), samples[k]));
        }
        return new Waveform(
                announced.id(), announced.section(), announced.rail(), announced.startS(), announced.rateHz(), traces);
    }

    private static void sample(String file, List<Cell> row, int i, double[][] samples, List<Problem> problems) {
        if (row.size() != samples.length + 1) {
            Cell first = row.get(0);
            problems.add(new Problem(
                    file,
                    first.line(),
                    first.column(),
                    "",
                    "the row has " + row.size() + " cells, the heading " + (samples.length + 1)));
            return;
        }
        for (int k = 0; k < row.size(); k++) {
            Cell cell = row.get(k);
            if (!NUMBER.matcher(cell.text()).matches()) {
                problems.add(new Problem(
                        file, cell.line(), cell.column(), "", "must be a number, found \"" + cell.text() + "\""));
            } else if (k > 0) {
                samples[k - 1][i] = Double.parseDouble(cell.text());
            }
        }
    }
}

package railproof.ui;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The outputs of a unit's rails over a burn-in, as they come in. A week of rows is a few megabytes.
 *
 * <p>Thread: added to by the record's writer, read by the window's.
 */
final class TrendLog {
    private static final int FIRST_ROOM = 256;

    /** One rail's rows so far. */
    private static final class Rows {
        private double[] outputV = new double[FIRST_ROOM];
        private int size;
    }

    private final Map<String, Rows> byRail = new LinkedHashMap<>();

    synchronized void add(String rail, double outputV) {
        Rows rows = byRail.computeIfAbsent(rail, name -> new Rows());
        if (rows.size == rows.outputV.length) {
            rows.outputV = Arrays.copyOf(rows.outputV, 2 * rows.size);
        }
        rows.outputV[rows.size++] = outputV;
    }

    /** What has come in of a rail beyond the first rows, oldest first. */
    synchronized double[] after(String rail, int known) {
        Rows rows = byRail.get(rail);
        return rows == null || rows.size <= known ? new double[0] : Arrays.copyOfRange(rows.outputV, known, rows.size);
    }
}

package railproof.run;

import java.util.List;

/**
 * A capture, scaled to physical units.
 *
 * @param id 0-based, ascending over the whole run
 * @param section which procedure took it
 * @param rail the rail's name
 * @param elapsedS time of the first sample since the start of the run, s
 * @param rateHz samples per second
 * @param traces one per channel, all of the same length
 */
public record Waveform(int id, Section section, String rail, double elapsedS, double rateHz, List<Trace> traces) {
    public Waveform {
        traces = List.copyOf(traces);
    }

    /**
     * One channel of a capture.
     *
     * <p>The array is handed over, not copied: captures are large. Nobody writes to it.
     */
    public static final class Trace {
        private final String column;
        private final double[] samples;

        /**
         * Takes ownership of the samples.
         *
         * @param column heading with unit, e.g. {@code output_V}
         * @param samples values in that unit, oldest first
         */
        public Trace(String column, double[] samples) {
            this.column = column;
            this.samples = samples;
        }

        /** Heading with unit. */
        public String column() {
            return column;
        }

        /** Values, oldest first; not to be written to. */
        public double[] samples() {
            return samples;
        }
    }
}

package railproof.procedure;

import java.util.List;
import java.util.OptionalDouble;

/**
 * How a burn-in stands, for whoever looks at it.
 *
 * @param phase what is done just now
 * @param elapsedS time since the start of the run, s
 * @param loadedS time under load so far, s
 * @param askedS time under load asked for, s
 * @param leftS about how long it still takes with everything that belongs to it, s
 * @param rails how each rail stands
 */
public record BurnInProgress(
        Phase phase, double elapsedS, double loadedS, double askedS, double leftS, List<RailNow> rails) {
    public BurnInProgress {
        rails = List.copyOf(rails);
    }

    /** What is done. */
    public enum Phase {
        /** Line on, no load, before anything is loaded. */
        STARTING("starting up"),
        /** Under load. */
        LOADED("under load"),
        /** Line off between two cold starts. */
        OFF("off, waiting for a cold start"),
        /** Somebody wants it to stand still. */
        PAUSED("paused"),
        /** Line on, no load, after the last hot reading. */
        COOLING("cooling");

        private final String words;

        Phase(String words) {
            this.words = words;
        }

        /** For people. */
        public String words() {
            return words;
        }
    }

    /**
     * One rail.
     *
     * @param name its name
     * @param outputV output at the last look, V, signed
     * @param ripplePpV ripple at the last full reading, peak to peak, V
     * @param heatSinkC heat sink at the last look, °C
     * @param trend where the output goes, in words
     */
    public record RailNow(
            String name, OptionalDouble outputV, OptionalDouble ripplePpV, OptionalDouble heatSinkC, String trend) {}
}

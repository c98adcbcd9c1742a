package railproof.run;

import java.time.Instant;

/** Something that happened in a run; the stream of them is the run. */
public sealed interface RunEvent {
    /** Time since the start of the run, s. */
    double elapsedS();

    /**
     * A procedure starts.
     *
     * @param pointsPlanned how many points it expects to take, for the time left
     */
    record SectionStarted(double elapsedS, Section section, String rail, int pointsPlanned) implements RunEvent {}

    /** A point is finished. */
    record PointTaken(double elapsedS, Point point) implements RunEvent {}

    /** A waveform was captured. */
    record WaveformTaken(double elapsedS, Waveform waveform) implements RunEvent {}

    /** The operator is asked for something. */
    record PromptShown(double elapsedS, String text) implements RunEvent {}

    /** The operator answered. */
    record PromptAnswered(double elapsedS, String answer) implements RunEvent {}

    /** Something worth a line in the record. */
    record Note(double elapsedS, Level level, String text) implements RunEvent {
        /** How loud. */
        public enum Level {
            /** For the record. */
            INFO,
            /** Degraded; the run goes on. */
            WARNING
        }
    }

    /** A channel is in use; one for every quantity of every rail, before the first point. */
    record ChannelUsed(double elapsedS, ChannelAccuracy accuracy) implements RunEvent {}

    /**
     * A burn-in begins.
     *
     * @param askedS time under load that was asked for, s
     */
    record BurnInPlanned(double elapsedS, double askedS) implements RunEvent {}

    /**
     * A run that broke off is taken up again.
     *
     * @param elapsedS time since the start of the run, the gap included, s
     * @param brokeOffS time since the start of the run at the last event or point before the gap, s
     * @param gapS how long nothing was recorded, by the wall clock, s; 0 if that clock does not tell
     * @param wallTime wall time now
     */
    record Resumed(double elapsedS, double brokeOffS, double gapS, Instant wallTime) implements RunEvent {}

    /** The run is over. */
    record RunEnded(double elapsedS, Instant wallTime, RunOutcome outcome) implements RunEvent {}
}

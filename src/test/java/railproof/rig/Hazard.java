package railproof.rig;

import java.util.concurrent.TimeUnit;

/**
 * Everything that can make a bench unsafe or a record wrong, with the time within which it is noticed, taken from the code
 * that notices it. DEVELOPERS.md prints one row for each; a test holds both together.
 */
public enum Hazard {
    /** The board does not answer, or not sensibly. */
    BOARD_SILENT("board does not answer", "three tries of at most 500 ms"),
    /** A load or the line source does not answer, or not sensibly. */
    INSTRUMENT_SILENT("load or line source does not answer", "the dialect's time-out, or the board's heartbeat"),
    /** A port is unplugged. */
    PORT_GONE("port gone", "the next exchange"),
    /** Something else answers at a port. */
    WRONG_DEVICE("another device on the port", "the next exchange"),
    /** A port cannot be opened. */
    PORT_REFUSED("port cannot be opened", "before anything is said"),
    /** Two programs on one bench. */
    SECOND_CONTROLLER("second controller", "a quarter of the heartbeat time-out"),
    /** The load was without power for a moment. */
    LOAD_RESTARTED("load restarts unseen", seconds(BenchTalk.LOAD_HEALTH_EVERY_NS)),
    /** The load says it is off and is not, or does not obey. */
    LOAD_LIES("load lies or does not obey", seconds(BenchTalk.LOAD_HEALTH_EVERY_NS)),
    /** A lead, fuse or contact between unit and load is open. */
    LEAD_OPEN("load lead, fuse or contactor open", "the next measurement of the load"),
    /** A load draws although it is off. */
    LOAD_LEAKS("load draws with its input off", seconds(BenchTalk.LOAD_HEALTH_EVERY_NS) + " a rail"),
    /** The line source does not do as told. */
    LINE_LIES("line source lies or fails", "the next switching of the line"),
    /** The board was reset. */
    BOARD_RESTARTED("board restarts", "a quarter of the heartbeat time-out"),
    /** A relay's contacts weld. */
    RELAY_WELDED("relay welded", seconds(SafeStateLadder.BUDGET_NS)),
    /** A converter is stuck. */
    CONVERTER_STUCK("converter stuck", "the next reading of 100 samples"),
    /** A converter reads something else. */
    CONVERTER_OFF("converter at its end, or off by much", "the next measurement of the load"),
    /** Old readings. */
    STALE("stale readings", "the next reading or heartbeat"),
    /** The output breaks its limits. */
    OVER_VOLTAGE("over-voltage, wrong polarity", ControlBench.TRIP_DELAY_US / 1000 + " ms"),
    /** Too much current. */
    OVER_CURRENT("over-current, over-power", "the load's own protection"),
    /** Nobody looks at a rail for long. */
    UNSEEN("long wait without a look", RailWatch.UNSEEN_S + " s a rail"),
    /** Somebody presses the emergency stop or opens a cover. */
    INTERLOCK("emergency stop, open cover", "at once (hardware), a quarter of the heartbeat time-out (cause)"),
    /** Somebody asks for a stop. */
    STOP("operator stops", GuardedLink.SLICE_MS + " ms"),
    /** The program hangs. */
    PROGRAM_HANGS("program hangs", ControlWatch.SILENCE_MS + " ms"),
    /** The program is told to end. */
    PROGRAM_ENDS("program told to end", ExitGuard.PATIENCE_MS + " ms"),
    /** The computer dies or sleeps. */
    COMPUTER_DIES("computer dies or sleeps", "heartbeat time-out of the rig file"),
    /** The wall clock is set. */
    CLOCK_SET("wall clock is set", "not needed: nothing is timed by it"),
    /** The disk refuses. */
    DISK("disk full, read-only or broken", "the record's receipt for that event"),
    /** Files from outside hold anything. */
    HOSTILE_FILE("hostile file", "when it is read"),
    /** Charge stays after switching off. */
    STORED_CHARGE("stored charge above 60 V", "from everything off until measured below"),
    /** Energised before anything was switched on. */
    FED_ELSEWHERE("unit live before anything is on", "before the first line on"),
    /** Not known whether everything is off. */
    NOT_CONFIRMED("off not confirmed", "the end of the run");

    private final String label;
    private final String within;

    Hazard(String label, String within) {
        this.label = label;
        this.within = within;
    }

    private static String seconds(long ns) {
        return TimeUnit.NANOSECONDS.toSeconds(ns) + " s";
    }

    /** As the table names it. */
    public String label() {
        return label;
    }

    /** Within what time it is noticed, as the table says it. */
    public String within() {
        return within;
    }
}

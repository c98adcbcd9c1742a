package railproof.campaign;

import java.util.EnumSet;
import java.util.Set;
import java.util.regex.Pattern;
import railproof.record.FaultyDisk;
import railproof.run.RunOutcome.End;
import railproof.sim.LinkEffect;
import railproof.sim.SimulatedBench;
import railproof.sim.device.ConverterFault;
import railproof.sim.device.LineFault;
import railproof.sim.device.LoadFault;
import railproof.wire.Link;
import railproof.wire.MemoryLink;
import railproof.wire.Peer;

/** Everything a campaign does to a bench, and what a run may then end with. */
enum Effect {
    // ------------------------------------------------------------------ the cable of the exchange that is struck
    DROP(Kind.LINK, Words.LINK),
    LOST_REPLY(Kind.LINK, Words.LINK),
    DELAY(Kind.LINK, Words.LINK),
    TRUNCATE(Kind.LINK, Words.LINK),
    GARBLE(Kind.LINK, Words.LINK),
    DUPLICATE(Kind.LINK, Words.LINK),
    REORDER(Kind.LINK, Words.LINK),
    STALL(Kind.LINK, Words.LINK),
    UNPLUG(Kind.LINK, Words.LINK),
    SHORT_WRITE(Kind.LINK, Words.LINK),
    REPLUG_TO_LINE_SOURCE(Kind.LINK, Words.LINK),
    REPLUG_TO_LOAD(Kind.LINK, Words.LINK + "|input state"),
    OTHER_BENCH(Kind.LINK, Words.LINK + "|asked for"),

    // ------------------------------------------------------------------ devices
    LOAD_POWER_CYCLE(Kind.DEVICE, "load-1"),
    LOAD_CLAIMS_OFF(Kind.DEVICE, "load-1"),
    LOAD_CLAIMS_ON(Kind.DEVICE, "load-1"),
    LOAD_IGNORES_OFF(Kind.DEVICE, "load-1"),
    LOAD_IGNORES_ON(Kind.DEVICE, "load-1"),
    LOAD_SILENT(Kind.DEVICE, "load-1"),
    LOAD_DEAF(Kind.DEVICE, "load-1"),
    LOAD_PROTECTION_DEAD(Kind.DEVICE, "none"),
    LOAD_MEASURES_NOTHING(Kind.DEVICE, "load-1"),
    LOAD_LEAD_OFF(Kind.DEVICE, "asked for|the board sees"),
    LINE_POWER_CYCLE(Kind.DEVICE, "line|asked for a line|nobody brought"),
    LINE_IGNORES_OFF(Kind.DEVICE, "line"),
    LINE_CLAIMS_OFF(Kind.DEVICE, "line"),
    LINE_SILENT(Kind.DEVICE, "line"),
    LINE_DEAF(Kind.DEVICE, "line"),
    BOARD_RESTART(Kind.DEVICE, "board"),
    LINE_RELAY_WELDED(Kind.DEVICE, "RELAY_MISMATCH|board"),

    // ------------------------------------------------------------------ converters
    OUTPUT_STUCK(Kind.CONVERTER, "is stuck|the board sees"),
    OUTPUT_AT_UPPER_RAIL(Kind.CONVERTER, "over-voltage on \\+5 V: .*\\(the end of input"),
    OUTPUT_AT_LOWER_RAIL(Kind.CONVERTER, "wrong polarity on \\+5 V"),
    // without a load there is nothing to compare an input with: it is taken for the unit
    OUTPUT_OFFSET(Kind.CONVERTER, "the board sees|not regulated"),
    LINE_STUCK(Kind.CONVERTER, "is stuck|asked for a line"),
    LINE_AT_RAIL(Kind.CONVERTER, "asked for a line"),

    // ------------------------------------------------------------------ around the bench
    EMERGENCY_STOP(Kind.PERSON, "emergency stop pressed: \"red button\""),
    EMERGENCY_STOP_FOR_A_MOMENT(Kind.PERSON, "an interlock or emergency stop was open for a moment"),
    OPERATOR_STOPS(Kind.PERSON, "stop pressed"),
    SECOND_CONTROLLER(Kind.DEVICE, "no longer armed|board|load-1"),
    COMPUTER_SLEEPS(Kind.HOST, "HOST_SILENT|no sign of life|load-|line"),
    WALL_CLOCK_JUMPS(Kind.HOST, "none"),

    // ------------------------------------------------------------------ the record
    DISK_FULL(Kind.DISK, "No space left on device"),
    DISK_READ_ONLY(Kind.DISK, "no permission"),
    DISK_BREAKS_IN_MID_WRITE(Kind.DISK, "Input/output error"),

    // ------------------------------------------------------------------ ports that cannot be opened
    PORT_WITHOUT_PERMISSION(Kind.PORT, "no permission"),
    PORT_IN_USE(Kind.PORT, "in use"),
    PORT_MISSING(Kind.PORT, "there is no serial port");

    /** Where an effect strikes. */
    enum Kind {
        LINK,
        DEVICE,
        CONVERTER,
        PERSON,
        HOST,
        DISK,
        PORT
    }

    private static final class Words {
        /** A run that a cable ended names the instrument at its end. */
        private static final String LINK = "@link";
    }

    private final Kind kind;
    private final String cause;

    Effect(Kind kind, String cause) {
        this.kind = kind;
        this.cause = cause;
    }

    Kind kind() {
        return kind;
    }

    /** Whether these words are a right cause of an end by this effect on that link. */
    boolean explains(String words, String link) {
        return Pattern.compile(cause.replace("@link", Pattern.quote(link)))
                .matcher(words)
                .find();
    }

    /** Kinds of end that are right, besides a completed run. */
    Set<End> ends() {
        return switch (this) {
            case OUTPUT_AT_UPPER_RAIL, OUTPUT_AT_LOWER_RAIL, OUTPUT_OFFSET -> EnumSet.of(End.TRIPPED, End.FAULTED);
            case EMERGENCY_STOP, EMERGENCY_STOP_FOR_A_MOMENT, OPERATOR_STOPS -> EnumSet.of(End.STOPPED);
            default -> EnumSet.of(End.FAULTED);
        };
    }

    /**
     * Whether a completed run may have judged otherwise than without the fault: what it measured was another thing. A
     * load of the same kind that answers in another's place is known by its serial number only at the next contact.
     */
    boolean mayChangeTheVerdict() {
        return kind == Kind.CONVERTER || this == LOAD_LEAD_OFF || this == LINE_POWER_CYCLE || this == REPLUG_TO_LOAD;
    }

    /** What is struck. */
    record Target(CampaignBench bench, String link, long seed, Runnable stop, Runnable second, Runnable jump) {}

    /** Strikes; what the cable does with the exchange that is going out just now. */
    LinkEffect strike(Target at) {
        return switch (kind) {
            case LINK -> cable(at);
            case DEVICE -> device(at);
            case CONVERTER -> converter(at);
            case PERSON, HOST -> around(at);
            case DISK, PORT -> new LinkEffect.None(); // struck elsewhere
        };
    }

    private LinkEffect cable(Target at) {
        return switch (this) {
            case DROP -> new LinkEffect.Silence();
            case LOST_REPLY -> new LinkEffect.LostReply();
            case DELAY -> new LinkEffect.Delay(700_000_000L);
            case TRUNCATE -> new LinkEffect.Truncate((int) (at.seed() & 3));
            case GARBLE -> new LinkEffect.Garbage(at.seed());
            case DUPLICATE -> new LinkEffect.Duplicate();
            case REORDER -> new LinkEffect.Reorder();
            case STALL -> new LinkEffect.Stall(3_000_000_000L);
            case UNPLUG -> new LinkEffect.Gone();
            case SHORT_WRITE -> new LinkEffect.ShortWrite(1);
            case REPLUG_TO_LINE_SOURCE -> elsewhere(at, at.bench().bench.lineSource());
            case REPLUG_TO_LOAD ->
                elsewhere(at, at.bench().bench.load(at.link().equals("load-1") ? "load-2" : "load-1"));
            case OTHER_BENCH -> elsewhere(at, otherBench(at.link()));
            default -> throw new IllegalStateException(name());
        };
    }

    private static LinkEffect elsewhere(Target at, Peer peer) {
        Link other = new MemoryLink(at.link(), at.bench().clock, peer);
        return new LinkEffect.Elsewhere(other);
    }

    /** An instrument of the same kind on another bench: it looks the same and is not. */
    private static Peer otherBench(String link) {
        SimulatedBench other = new CampaignBench().bench;
        return link.equals("board") ? other.board() : link.equals("line") ? other.lineSource() : other.load(link);
    }

    private LinkEffect device(Target at) {
        SimulatedBench bench = at.bench().bench;
        switch (this) {
            case LOAD_POWER_CYCLE -> bench.loadDevice("load-1").powerCycle();
            case LOAD_LEAD_OFF -> bench.moveLoad("load-1", -1);
            case LINE_POWER_CYCLE -> bench.lineDevice().powerCycle();
            case LINE_IGNORES_OFF -> bench.lineDevice().fault(LineFault.IGNORES_OFF, true);
            case LINE_CLAIMS_OFF -> bench.lineDevice().fault(LineFault.CLAIMS_OFF, true);
            case LINE_SILENT -> bench.lineDevice().fault(LineFault.SILENT, true);
            case LINE_DEAF -> bench.lineDevice().fault(LineFault.DEAF, true);
            case BOARD_RESTART -> bench.boardDevice().powerCycle();
            case LINE_RELAY_WELDED -> bench.boardDevice().stickRelay(0, true);
            case SECOND_CONTROLLER -> at.second().run();
            default -> bench.loadDevice("load-1").fault(LoadFault.valueOf(name().substring("LOAD_".length())), true);
        }
        return new LinkEffect.None();
    }

    private LinkEffect converter(Target at) {
        int input = name().startsWith("LINE") ? CampaignBench.LINE_INPUT : CampaignBench.OUTPUT_INPUT;
        ConverterFault fault =
                switch (this) {
                    case OUTPUT_STUCK, LINE_STUCK -> new ConverterFault.Stuck();
                    case OUTPUT_AT_LOWER_RAIL -> new ConverterFault.Rail(false);
                    case OUTPUT_OFFSET -> new ConverterFault.Offset(0.8);
                    default -> new ConverterFault.Rail(true);
                };
        at.bench().bench.boardDevice().converterFault(input, fault);
        return new LinkEffect.None();
    }

    private LinkEffect around(Target at) {
        switch (this) {
            case EMERGENCY_STOP -> at.bench().bench.boardDevice().input(0, false);
            case EMERGENCY_STOP_FOR_A_MOMENT -> {
                at.bench().bench.boardDevice().input(0, false);
                at.bench().bench.boardDevice().input(0, true);
            }
            case OPERATOR_STOPS -> at.stop().run();
            default -> at.jump().run();
        }
        return new LinkEffect.None();
    }

    /** How the disk goes wrong. */
    FaultyDisk.Kind disk() {
        return switch (this) {
            case DISK_FULL -> FaultyDisk.Kind.FULL;
            case DISK_READ_ONLY -> FaultyDisk.Kind.READ_ONLY;
            case DISK_BREAKS_IN_MID_WRITE -> FaultyDisk.Kind.MID_WRITE;
            default -> FaultyDisk.Kind.SOUND;
        };
    }
}

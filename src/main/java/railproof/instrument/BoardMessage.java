package railproof.instrument;

import java.nio.charset.StandardCharsets;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.zip.CRC32;
import railproof.wire.FrameKind;

/**
 * The messages of the board's protocol, major 1, as the host writes and reads them. The authority is
 * firmware-protocol/messages.csv; a test compares the two field by field.
 */
enum BoardMessage {
    /** Who the board is; frozen for ever. */
    IDENTIFY(
            0x0001,
            "u16 min_major, u16 max_major",
            "u16 major, u16 minor, char[16] board, char[16] serial, char[24] build, " + "u32 boot_id, u32 dict_crc"),
    /** What the board can do. */
    CAPABILITY_READ(
            0x0002,
            "",
            "u16 max_payload, u16 rx_window, u8 max_in_flight, u8 channel_count, "
                    + "u8 relay_count, u8 input_count, u32 tick_hz, u32 buffer_samples, "
                    + "u32 max_rate_hz, u32 min_period_ticks, u8 code_bits, u8 reserved_1, "
                    + "u16 heartbeat_min_ms, u16 heartbeat_max_ms, u16 load_off_ms, "
                    + "u16 relay_settle_ms, u16 interlock_mask, u32 hot_relays, u32 limit_period_us, "
                    + "u32 features, u16 store_bytes, u16 reserved_2"),
    /** One analogue input. */
    CHANNEL_INFO_READ(
            0x0003, "u8 channel", "u8 channel, u8 bits, u16 reserved, i32 low_uv, i32 high_uv, char[12] name"),
    /** Echo. */
    PING(0x0004, "bytes data", "bytes data"),
    /** The only message that keeps the outputs alive. */
    HEARTBEAT(
            0x0005,
            "u16 timeout_ms, u16 reserved, u32 arm_token",
            Texts.STATUS + ", u8 fed, u8 reserved_1, u16 reserved_2"),
    /** The device clock. */
    CLOCK_READ(0x0006, "u64 host_opaque", "u64 host_opaque, u64 rx_ticks, u64 tx_ticks"),
    /** The full status. */
    STATUS_READ(
            0x0007,
            "",
            Texts.STATUS
                    + ", u32 relays_commanded, u8 reset_cause, u8 first_fault, u8 capture_state, u8 reserved_1, u16 heartbeat_timeout_ms, u16 reserved_2, u32 heartbeat_age_ms"),
    /** Link statistics. */
    COUNTERS_READ(
            0x0008,
            "",
            "u32 rx_frames, u32 tx_frames, u32 crc_errors, u32 cobs_errors, u32 overlong, "
                    + "u32 malformed, u32 repeats, u32 lost_events"),
    /** Allows energising. */
    ARM(0x0010, "u32 magic, u32 nonce, u16 timeout_ms, u16 reserved", "u32 arm_token"),
    /** Everything off. */
    SAFE_STATE(0x0011, "", Texts.STATUS),
    /** What tripped. */
    FAULT_READ(
            0x0012,
            "",
            "u32 latched, u32 active, u8 first_fault, u8 channel, u16 reserved, i32 code, " + "u64 ticks, u32 relays"),
    /** Forget faults whose cause is gone. */
    FAULT_CLEAR(0x0013, "u32 bits", "u32 latched"),
    /** A limit the board trips on. */
    LIMIT_SET(
            0x0014,
            "u8 channel, u8 enable, u16 reserved, i32 low_code, i32 high_code, u32 delay_us",
            "u8 channel, u8 enable, u16 reserved, i32 low_code, i32 high_code, u32 delay_us"),
    /** Switches relays. */
    RELAY_SET(0x0020, "u32 mask, u32 value, u32 arm_token", "u32 commanded, u32 relays, u16 settle_ms, u16 reserved"),
    /** Switches load-enable. */
    LOAD_ENABLE_SET(0x0021, "u8 on, u8 reserved_1, u16 reserved_2, u32 arm_token", Texts.STATUS),
    /** Averages. */
    ANALOG_READ(
            0x0030,
            "u32 channel_mask, u16 samples, u16 reserved, u32 period_ticks",
            "u64 start_ticks, u32 channel_mask, u16 samples, u16 reserved, u32 period_ticks, "
                    + "channel: i32 first, channel: i32 lowest, channel: i32 highest, "
                    + "channel: i64 sum, channel: u64 squares"),
    /** Prepares a block capture. */
    CAPTURE_CONFIGURE(
            0x0031,
            "u32 channel_mask, u8 trigger, u8 trigger_channel, u16 reserved, u32 period_ticks, u32 scans, "
                    + "u32 pre_scans, i32 level_code, u32 trigger_timeout_ms",
            "u16 capture_id, u16 reserved, u32 channel_mask, u32 period_ticks, u32 scans, u32 pre_scans"),
    /** Starts, triggers or aborts it. */
    CAPTURE_CONTROL(0x0032, "u16 capture_id, u8 op, u8 reserved", "u16 capture_id, u8 state, u8 reserved"),
    /** How far it is. */
    CAPTURE_STATUS(
            0x0033,
            "",
            "u16 capture_id, u8 state, u8 reserved, u32 filled, u64 start_ticks, "
                    + "u32 trigger_scan, u32 dropped, u32 block_crc"),
    /** Asks for samples. */
    CAPTURE_READ(
            0x0034,
            "u16 capture_id, u16 reserved, u32 offset, u32 count",
            "u16 capture_id, u16 fragments, u32 offset, u32 count"),
    /** Samples without end. */
    STREAM_START(
            0x0038,
            "u32 channel_mask, u32 period_ticks, u16 credits, u16 reserved",
            "u16 capture_id, u16 reserved, u32 channel_mask, u32 period_ticks, u64 start_ticks"),
    /** Lets a stream go on. */
    STREAM_CREDIT(0x0039, "u16 capture_id, u16 credits", "u16 capture_id, u16 credits, u32 scans, u32 dropped"),
    /** Ends a stream. */
    STREAM_STOP(0x003A, "u16 capture_id, u16 reserved", "u16 capture_id, u16 reserved, u32 scans, u32 dropped"),
    /** The bytes stored on the board. */
    CAL_READ(0x0040, "u16 offset, u16 count", "u32 generation, u32 record_crc, u16 length, u16 offset, bytes data"),
    /** Bytes to be stored. */
    CAL_WRITE(0x0041, "u16 offset, u16 reserved, bytes data", "u16 offset, u16 count"),
    /** Stores them. */
    CAL_COMMIT(0x0042, "u32 magic, u32 record_crc, u16 length, u16 reserved", "u32 generation, u32 record_crc"),
    /** The board tests itself. */
    SELF_TEST(0x0050, "u32 tests", "u32 done, u32 failed"),
    /** Restarts the board. */
    RESET(0x0051, "u32 magic", ""),
    /** Something happened. */
    EVENT(0x0080, FrameKind.EVENT, "u8 event, u8 state, u16 reserved, u32 detail, u64 ticks"),
    /** A piece of a capture. */
    SAMPLE_DATA(0x0081, FrameKind.DATA, "u16 capture_id, u16 count, u32 channel_mask, u32 offset, sample: i16 sample"),
    /** Words for the log. */
    LOG_TEXT(0x0082, FrameKind.EVENT, "u8 level, u8 reserved_1, u16 reserved_2, bytes text");

    /** Protocol major spoken here. */
    static final int MAJOR = 1;
    /** Protocol minor spoken here. */
    static final int MINOR = 0;

    private final int id;

    @SuppressWarnings("ImmutableEnumChecker") // filled by the constructor only
    private final Map<FrameKind, PayloadLayout> layouts = new EnumMap<>(FrameKind.class);

    BoardMessage(int id, String request, String response) {
        this.id = id;
        layouts.put(FrameKind.REQUEST, PayloadLayout.parse(request));
        layouts.put(FrameKind.RESPONSE, PayloadLayout.parse(response));
    }

    BoardMessage(int id, FrameKind kind, String layout) {
        this.id = id;
        layouts.put(kind, PayloadLayout.parse(layout));
    }

    int id() {
        return id;
    }

    /** Layout of its payload in frames of this kind. */
    PayloadLayout layout(FrameKind kind) {
        PayloadLayout layout = layouts.get(kind);
        if (layout == null) {
            throw new IllegalArgumentException(this + " has no " + kind);
        }
        return layout;
    }

    /** The kinds of frame that carry it. */
    Set<FrameKind> kinds() {
        return Set.copyOf(layouts.keySet());
    }

    /** A request to be filled in. */
    PayloadWriter request() {
        return layout(FrameKind.REQUEST).writer();
    }

    /** The message with this id. */
    static Optional<BoardMessage> of(int id) {
        return List.of(values()).stream().filter(m -> m.id == id).findFirst();
    }

    /** Every field on a line of its own, in the order of the message table. */
    private String tableText() {
        StringBuilder text = new StringBuilder();
        layouts.forEach((kind, layout) -> {
            String start = String.format(
                    Locale.ROOT, "%04x,%s,%s,", id, this, kind.name().toLowerCase(Locale.ROOT));
            if (layout.fields().isEmpty()) {
                text.append(start).append(",,\n");
            }
            for (PayloadField f : layout.fields()) {
                text.append(start)
                        .append(f.name())
                        .append(',')
                        .append(f.typeText())
                        .append(',')
                        .append(f.repeatText())
                        .append('\n');
            }
        });
        return text.toString();
    }

    /** Checksum of the message table, as PROTOCOL.md defines it; compared with what the board says of its own. */
    static long tableCrc() {
        CRC32 crc = new CRC32();
        for (BoardMessage message : values()) {
            crc.update(message.tableText().getBytes(StandardCharsets.UTF_8));
        }
        return crc.getValue();
    }

    private static final class Texts {
        /** What every status-bearing answer begins with. */
        private static final String STATUS =
                "u8 state, u8 load_enable, u16 inputs, u32 relays, " + "u32 boot_id, u32 faults, u64 ticks";

        private Texts() {}
    }
}

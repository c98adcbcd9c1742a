/* The table of messages, and those that only read. */
#include "commands.h"

#include <string.h>

#include "bytes.h"
#include "messages.h"

struct entry {
    uint16_t type;
    uint16_t least;
    uint32_t feature;
    bool slow;
    command *handler;
};

#define ENTRY(NAME, feature, handler) {RP_##NAME, RP_##NAME##_REQUEST_SIZE, feature, false, handler}
#define SLOW(NAME, feature, handler) {RP_##NAME, RP_##NAME##_REQUEST_SIZE, feature, true, handler}

static const struct entry table[] = {
    ENTRY(IDENTIFY, 0, command_identify),
    ENTRY(CAPABILITY_READ, 0, command_capability_read),
    ENTRY(CHANNEL_INFO_READ, 0, command_channel_info_read),
    ENTRY(PING, 0, command_ping),
    ENTRY(HEARTBEAT, 0, command_heartbeat),
    ENTRY(CLOCK_READ, 0, command_clock_read),
    ENTRY(STATUS_READ, 0, command_status_read),
    ENTRY(COUNTERS_READ, 0, command_counters_read),
    ENTRY(ARM, 0, command_arm),
    ENTRY(SAFE_STATE, 0, command_safe_state),
    ENTRY(FAULT_READ, 0, command_fault_read),
    ENTRY(FAULT_CLEAR, 0, command_fault_clear),
    ENTRY(LIMIT_SET, FEATURE_LIMITS, command_limit_set),
    ENTRY(RELAY_SET, 0, command_relay_set),
    ENTRY(LOAD_ENABLE_SET, 0, command_load_enable_set),
    ENTRY(ANALOG_READ, 0, command_analog_read),
    ENTRY(CAPTURE_CONFIGURE, FEATURE_CAPTURE, command_capture_configure),
    ENTRY(CAPTURE_CONTROL, FEATURE_CAPTURE, command_capture_control),
    ENTRY(CAPTURE_STATUS, FEATURE_CAPTURE, command_capture_status),
    ENTRY(CAPTURE_READ, FEATURE_CAPTURE, command_capture_read),
    ENTRY(STREAM_START, FEATURE_STREAM, command_stream_start),
    ENTRY(STREAM_CREDIT, FEATURE_STREAM, command_stream_credit),
    ENTRY(STREAM_STOP, FEATURE_STREAM, command_stream_stop),
    SLOW(CAL_READ, FEATURE_STORE, command_cal_read),
    SLOW(CAL_WRITE, FEATURE_STORE, command_cal_write),
    SLOW(CAL_COMMIT, FEATURE_STORE, command_cal_commit),
    SLOW(SELF_TEST, FEATURE_SELF_TEST, command_self_test),
    ENTRY(RESET, 0, command_reset),
};

command *command_of(const struct settings *settings, uint16_t type, uint16_t *least, bool *slow)
{
    for (size_t k = 0; k < sizeof table / sizeof *table; k++) {
        const struct entry *entry = &table[k];
        if (entry->type == type && (settings->features & entry->feature) == entry->feature) {
            *least = entry->least;
            *slow = entry->slow;
            return entry->handler;
        }
    }
    return NULL;
}

int refuse(struct call *call, enum error code, uint32_t detail)
{
    call->code = (uint16_t)code;
    call->detail = (uint16_t)detail;
    return 0;
}

static void put_text(uint8_t *out, const char *text, size_t length)
{
    for (size_t k = 0; k < length && text[k] != 0; k++)
        out[k] = (uint8_t)text[k];
}

int command_identify(struct device *device, struct call *call)
{
    if (get_u16(call->in + RP_IDENTIFY_REQUEST_MIN_MAJOR) > 1 || get_u16(call->in + RP_IDENTIFY_REQUEST_MAX_MAJOR) < 1)
        return refuse(call, ERROR_VERSION, 1);
    const struct settings *settings = device->settings;
    uint8_t *out = call->out;
    put_u16(out + RP_IDENTIFY_RESPONSE_MAJOR, 1);
    put_u16(out + RP_IDENTIFY_RESPONSE_MINOR, 0);
    put_text(out + RP_IDENTIFY_RESPONSE_BOARD, settings->board, 16);
    put_text(out + RP_IDENTIFY_RESPONSE_SERIAL, settings->serial, 16);
    put_text(out + RP_IDENTIFY_RESPONSE_BUILD, settings->build, 24);
    put_u32(out + RP_IDENTIFY_RESPONSE_BOOT_ID, device->safety.boot_id);
    put_u32(out + RP_IDENTIFY_RESPONSE_DICT_CRC, RP_TABLE_CRC);
    return RP_IDENTIFY_RESPONSE_SIZE;
}

int command_capability_read(struct device *device, struct call *call)
{
    const struct settings *settings = device->settings;
    uint8_t *out = call->out;
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_MAX_PAYLOAD, FRAME_MAX_PAYLOAD);
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_RX_WINDOW, LINK_RX_WINDOW);
    out[RP_CAPABILITY_READ_RESPONSE_MAX_IN_FLIGHT] = 2;
    out[RP_CAPABILITY_READ_RESPONSE_CHANNEL_COUNT] = settings->channel_count;
    out[RP_CAPABILITY_READ_RESPONSE_RELAY_COUNT] = settings->relay_count;
    out[RP_CAPABILITY_READ_RESPONSE_INPUT_COUNT] = settings->input_count;
    put_u32(out + RP_CAPABILITY_READ_RESPONSE_TICK_HZ, settings->tick_hz);
    put_u32(out + RP_CAPABILITY_READ_RESPONSE_BUFFER_SAMPLES, settings->buffer_samples);
    put_u32(out + RP_CAPABILITY_READ_RESPONSE_MAX_RATE_HZ, settings->max_rate_hz);
    put_u32(out + RP_CAPABILITY_READ_RESPONSE_MIN_PERIOD_TICKS, settings->min_period_ticks);
    out[RP_CAPABILITY_READ_RESPONSE_CODE_BITS] = CODE_BITS;
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_HEARTBEAT_MIN_MS, settings->heartbeat_min_ms);
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_HEARTBEAT_MAX_MS, settings->heartbeat_max_ms);
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_LOAD_OFF_MS, settings->load_off_ms);
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_RELAY_SETTLE_MS, settings->relay_settle_ms);
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_INTERLOCK_MASK, settings->interlock_mask);
    put_u32(out + RP_CAPABILITY_READ_RESPONSE_HOT_RELAYS, settings->hot_relays);
    put_u32(out + RP_CAPABILITY_READ_RESPONSE_LIMIT_PERIOD_US, settings->limit_period_us);
    put_u32(out + RP_CAPABILITY_READ_RESPONSE_FEATURES, settings->features);
    put_u16(out + RP_CAPABILITY_READ_RESPONSE_STORE_BYTES, settings->store_bytes);
    return RP_CAPABILITY_READ_RESPONSE_SIZE;
}

int command_channel_info_read(struct device *device, struct call *call)
{
    uint8_t channel = call->in[RP_CHANNEL_INFO_READ_REQUEST_CHANNEL];
    if (channel >= device->settings->channel_count)
        return refuse(call, ERROR_BAD_VALUE, RP_CHANNEL_INFO_READ_REQUEST_CHANNEL);
    const struct channel_info *info = &device->settings->channels[channel];
    uint8_t *out = call->out;
    out[RP_CHANNEL_INFO_READ_RESPONSE_CHANNEL] = channel;
    out[RP_CHANNEL_INFO_READ_RESPONSE_BITS] = CODE_BITS;
    put_u32(out + RP_CHANNEL_INFO_READ_RESPONSE_LOW_UV, (uint32_t)info->low_uv);
    put_u32(out + RP_CHANNEL_INFO_READ_RESPONSE_HIGH_UV, (uint32_t)info->high_uv);
    put_text(out + RP_CHANNEL_INFO_READ_RESPONSE_NAME, info->name, 12);
    return RP_CHANNEL_INFO_READ_RESPONSE_SIZE;
}

int command_ping(struct device *device, struct call *call)
{
    (void)device;
    memcpy(call->out, call->in, call->request->length);
    return call->request->length;
}

int command_clock_read(struct device *device, struct call *call)
{
    put_u64(call->out + RP_CLOCK_READ_RESPONSE_HOST_OPAQUE, get_u64(call->in + RP_CLOCK_READ_REQUEST_HOST_OPAQUE));
    put_u64(call->out + RP_CLOCK_READ_RESPONSE_RX_TICKS, call->received);
    put_u64(call->out + RP_CLOCK_READ_RESPONSE_TX_TICKS, device_now(device));
    return RP_CLOCK_READ_RESPONSE_SIZE;
}

int command_counters_read(struct device *device, struct call *call)
{
    const struct link_counters *counters = &device->link.counters;
    uint8_t *out = call->out;
    put_u32(out + RP_COUNTERS_READ_RESPONSE_RX_FRAMES, counters->rx_frames);
    put_u32(out + RP_COUNTERS_READ_RESPONSE_TX_FRAMES, counters->tx_frames);
    put_u32(out + RP_COUNTERS_READ_RESPONSE_CRC_ERRORS, counters->crc_errors);
    put_u32(out + RP_COUNTERS_READ_RESPONSE_COBS_ERRORS, counters->cobs_errors);
    put_u32(out + RP_COUNTERS_READ_RESPONSE_OVERLONG, counters->overlong);
    put_u32(out + RP_COUNTERS_READ_RESPONSE_MALFORMED, counters->malformed);
    put_u32(out + RP_COUNTERS_READ_RESPONSE_REPEATS, counters->repeats);
    put_u32(out + RP_COUNTERS_READ_RESPONSE_LOST_EVENTS, counters->lost_events);
    return RP_COUNTERS_READ_RESPONSE_SIZE;
}

#include "fake_board.h"

#include <string.h>

#define OPERATE_US 5000u
#define SENT_SIZE (1u << 20)

struct fake_board board;
struct device device;
static int16_t buffer[FAKE_BUFFER];
static uint8_t staging[FAKE_STORE];
static uint8_t sent[SENT_SIZE];
static size_t sent_length;

static const struct channel_info channels[FAKE_CHANNELS] = {
    {"text out", -10240000, 10240000}, {"raw", 0, 65536000},
#define INPUT {"input", -10240000, 10240000}
    INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT,
    INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT, INPUT,
};

struct settings fake_settings = {
    .board = "fake", .serial = "F-1", .build = "test", .channels = channels,
    .buffer = buffer, .buffer_samples = FAKE_BUFFER, .staging = staging,
    .tick_hz = 1000000, .max_rate_hz = 200000, .min_period_ticks = 5,
    .hot_relays = 0x80, .limit_period_us = 500,
    .features = FEATURE_SIMULATED | FEATURE_CAPTURE | FEATURE_LIMITS | FEATURE_LEVEL_TRIGGER | FEATURE_STREAM
            | FEATURE_STORE | FEATURE_SELF_TEST,
    .store_bytes = FAKE_STORE, .heartbeat_min_ms = 200, .heartbeat_max_ms = 2000,
    .load_off_ms = 10, .relay_settle_ms = 8, .boot_ms = 5, .interlock_mask = 1,
    .channel_count = FAKE_CHANNELS, .relay_count = 8, .input_count = 16,
};

/* --- port ----------------------------------------------------------------------------------------------------------------- */

uint32_t port_ticks(void) { return (uint32_t)board.time_us; }
uint32_t port_lock(void) { return 0; }
void port_unlock(uint32_t before) { (void)before; }
void port_reset(void) { board.resets++; }

void port_load_enable(bool on)
{
    board.load_edges += on != board.load_enable;
    board.load_enable = on;
}

bool port_load_enable_read(void) { return board.load_enable; }

void port_relays(uint32_t energised)
{
    if (energised != board.coils)
        board.coils_moved_us = board.time_us;
    board.coils = energised;
}

uint32_t port_relays_read(void)
{
    if (board.time_us - board.coils_moved_us >= OPERATE_US)
        board.contacts = board.coils;
    return (board.contacts & ~board.stuck_mask) | (board.stuck_value & board.stuck_mask);
}

uint16_t port_inputs(void) { return board.inputs; }
uint32_t port_faults(void) { return board.faults; }
void port_scan_start(uint64_t start, uint32_t period, uint32_t mask) { (void)start; (void)period; (void)mask; }
void port_scan_stop(void) {}

enum port_scan_result port_scan(uint64_t at, int16_t codes[PORT_MAX_CHANNELS])
{
    if (board.adc_late)
        return PORT_SCAN_LATER;
    if (board.lose_scans > 0) {
        board.lose_scans--;
        return PORT_SCAN_LOST;
    }
    for (unsigned c = 0; c < FAKE_CHANNELS; c++)
        codes[c] = board.ramp ? (int16_t)(uint16_t)(at + c) : board.level[c];
    return PORT_SCAN_TAKEN;
}

void port_look(int16_t codes[PORT_MAX_CHANNELS])
{
    memcpy(codes, board.level, sizeof board.level);
}

void port_store_read(unsigned slot, size_t offset, void *into, size_t count)
{
    memcpy(into, board.slots[slot] + offset, count);
}

bool port_store_erase(unsigned slot)
{
    if (board.writes_left == 0)
        return false;
    memset(board.slots[slot], 0xFF, sizeof board.slots[slot]);
    return true;
}

bool port_store_write(unsigned slot, size_t offset, const void *from, size_t count)
{
    const uint8_t *bytes = from;
    for (size_t k = 0; k < count; k++) {
        if (board.writes_left == 0)
            return false;
        if (board.writes_left > 0)
            board.writes_left--;
        board.slots[slot][offset + k] = bytes[k];
    }
    return true;
}

bool port_store_locked(void) { return board.store_locked; }

/* --- for tests ------------------------------------------------------------------------------------------------------------ */

void fake_start(uint64_t time_us, uint32_t seed)
{
    uint8_t slots[2][FAKE_STORE + 16];
    memcpy(slots, board.slots, sizeof slots);
    memset(&board, 0, sizeof board);
    memcpy(board.slots, slots, sizeof slots);
    memset(staging, 0, sizeof staging);
    board.time_us = time_us;
    board.inputs = 0xFFFF;
    board.writes_left = -1;
    sent_length = 0;
    device_init(&device, &fake_settings, seed, RESET_POWER_ON);
}

static void collect(void)
{
    size_t n = device_transmit(&device, sent + sent_length, SENT_SIZE - sent_length);
    sent_length += n;
}

void fake_run(uint64_t us)
{
    uint64_t end = board.time_us + us;
    uint64_t period = fake_settings.limit_period_us;
    while (board.time_us < end) {
        uint64_t next = (board.time_us / period + 1) * period;
        board.time_us = next < end ? next : end;
        if (board.time_us % period == 0)
            device_tick(&device);
        for (int polls = 0; polls < 100; polls++) {
            device_poll(&device);
            collect();
            if (device_idle(&device))
                break;
        }
    }
}

size_t fake_sent(struct fake_frame *into, size_t max)
{
    static struct frame_receiver receiver;
    struct frame frame;
    size_t count = 0;
    collect();
    frame_receiver_reset(&receiver);
    for (size_t k = 0; k < sent_length; k++) {
        if (frame_receive(&receiver, sent[k], &frame) != FRAME_COMPLETE || count == max)
            continue;
        struct fake_frame *out = &into[count++];
        *out = (struct fake_frame){frame.kind, frame.flags, frame.seq, frame.type, frame.length, {0}};
        memcpy(out->payload, frame.payload, frame.length);
    }
    sent_length = 0;
    return count;
}

void fake_request(uint8_t flags, uint16_t seq, uint16_t type, const void *payload, uint16_t length)
{
    uint8_t raw[FRAME_MAX_RAW];
    uint8_t wire[FRAME_MAX_ENCODED + 1];
    struct frame frame = {FRAME_REQUEST, flags, seq, type, length, payload};
    size_t count = frame_encode(raw, frame_build(raw, &frame), wire);
    for (size_t k = 0; k < count; k++)
        device_received(&device, wire[k]);
}

struct fake_frame fake_ask(uint8_t flags, uint16_t seq, uint16_t type, const void *payload, uint16_t length)
{
    static struct fake_frame frames[64];
    fake_sent(frames, 64);
    fake_request(flags, seq, type, payload, length);
    device_poll(&device);
    size_t count = fake_sent(frames, 64);
    for (size_t k = 0; k < count; k++)
        if (frames[k].seq == seq && frames[k].type == type && (frames[k].kind == FRAME_RESPONSE || frames[k].kind == FRAME_ERROR))
            return frames[k];
    return (struct fake_frame){0};
}

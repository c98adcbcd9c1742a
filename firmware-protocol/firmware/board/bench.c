#include "bench.h"

#include <string.h>

#include "../core/bytes.h"

/* A contact follows its coil so much later. */
#define OPERATE_TICKS 4000u
/* Scans that did not come are asked for again. */
#define ASK_AGAIN_TICKS 300000u

#define SCANS_HEADER 12u

void bench_init(struct bench *bench, struct device *device, bench_window *window)
{
    memset(bench, 0, sizeof *bench);
    bench->device = device;
    bench->window = window;
    window_start(window);
    bench->inputs = 0xFFFF;
    bench->report_due = true;
}

void bench_received(struct bench *bench, uint8_t byte)
{
    uint32_t following = (bench->rx_in + 1) % BENCH_RX_SIZE;
    if (following == bench->rx_out)
        return;
    bench->rx[bench->rx_in] = byte;
    bench->rx_in = following;
}

/* --- outputs -------------------------------------------------------------------------------------------------------------- */

/* The window hears of each change at the instant at which it is seen: its time never goes back. */
static void note_outputs(struct bench *bench, uint32_t contacts)
{
    uint32_t before = port_lock();
    if (contacts != bench->noted_contacts || bench->load != bench->noted_load) {
        bench->noted_contacts = contacts;
        bench->noted_load = bench->load;
        window_output(bench->window, device_now(bench->device), contacts, bench->load);
    }
    port_unlock(before);
}

uint32_t bench_contacts(struct bench *bench)
{
    if (bench->contacts != bench->coils && device_now(bench->device) - bench->moved_at >= OPERATE_TICKS) {
        bench->contacts = bench->coils;
        bench->changed_at = bench->moved_at + OPERATE_TICKS;
    }
    uint32_t contacts = (bench->contacts & ~bench->stuck_mask) | (bench->stuck_value & bench->stuck_mask);
    note_outputs(bench, contacts);
    return contacts;
}

void bench_load(struct bench *bench, bool on)
{
    if (on != bench->load)
        bench->changed_at = device_now(bench->device);
    bench->load = on;
    bench_contacts(bench);
}

void bench_relays(struct bench *bench, uint32_t energised)
{
    if (energised != bench->coils)
        bench->moved_at = device_now(bench->device);
    bench->coils = energised;
}

void bench_tick(struct bench *bench)
{
    bench_contacts(bench);
    window_time(bench->window, device_now(bench->device));
}

/* --- inputs --------------------------------------------------------------------------------------------------------------- */

static int16_t clip(int32_t code)
{
    return (int16_t)(code < CODE_MIN ? CODE_MIN : code > CODE_MAX ? CODE_MAX : code);
}

/* The wave at an instant, straight lines between its points. */
static int32_t wave_at(const struct bench *bench, uint64_t at)
{
    uint64_t phase = at % bench->wave_period * bench->wave_points;
    uint32_t point = (uint32_t)(phase / bench->wave_period);
    uint32_t rest = (uint32_t)(phase % bench->wave_period);
    int32_t from = bench->wave[point];
    int32_t to = bench->wave[(point + 1) % bench->wave_points];
    return from + (int32_t)((int64_t)(to - from) * rest / bench->wave_period);
}

static void levels_at(const struct bench *bench, uint64_t at, int16_t codes[PORT_MAX_CHANNELS])
{
    memcpy(codes, bench->level, sizeof bench->level);
    if (bench->wave_points > 0) {
        int16_t *code = &codes[bench->wave_channel];
        *code = clip(*code + wave_at(bench, at));
    }
}

void bench_look(struct bench *bench, int16_t codes[PORT_MAX_CHANNELS])
{
    if (window_used(bench->window)) {
        window_look(bench->window, codes);
        return;
    }
    levels_at(bench, device_now(bench->device), codes);
}

void bench_scan_start(struct bench *bench, uint64_t start, uint32_t period, uint32_t mask)
{
    bench->next_need = start;
    bench->scan_period = period;
    bench->scan_mask = mask;
    bench->scan_channels = 0;
    for (unsigned c = 0; c < PORT_MAX_CHANNELS; c++)
        bench->scan_channels = (uint8_t)(bench->scan_channels + (mask >> c & 1));
    bench->wanted = 0;
    bench->have_count = 0;
    bench->scanning = true;
    window_scan_start(bench->window, start, period, mask);
}

void bench_scan_stop(struct bench *bench)
{
    bench->scanning = false;
    window_scan_stop(bench->window);
}

static enum port_scan_result take_given(struct bench *bench, uint64_t at, int16_t codes[PORT_MAX_CHANNELS])
{
    uint64_t end = bench->have_first + (uint64_t)bench->have_count * bench->scan_period;
    if (bench->have_count == 0 || at < bench->have_first || at >= end)
        return PORT_SCAN_LATER;
    const int16_t *from = bench->have + (at - bench->have_first) / bench->scan_period * bench->scan_channels;
    for (unsigned c = 0; c < PORT_MAX_CHANNELS; c++) {
        if (bench->scan_mask >> c & 1)
            bench->level[c] = *from++; /* what the limits see in this mode is the last scan */
        codes[c] = bench->level[c];
    }
    if (at + bench->scan_period == end)
        bench->have_count = 0;
    return PORT_SCAN_TAKEN;
}

enum port_scan_result bench_scan(struct bench *bench, uint64_t at, int16_t codes[PORT_MAX_CHANNELS])
{
    if (window_used(bench->window))
        return window_scan(bench->window, at, codes);
    if (bench->pull)
        return take_given(bench, at, codes);
    levels_at(bench, at, codes);
    return PORT_SCAN_TAKEN;
}

/* --- the line ------------------------------------------------------------------------------------------------------------- */

static void send(struct bench *bench, uint16_t type, size_t length)
{
    struct frame frame = {FRAME_EVENT, 0, bench->seq++, type, (uint16_t)length, bench->raw + FRAME_HEADER};
    size_t wire = frame_encode(bench->raw, frame_build(bench->raw, &frame), bench->wire);
    uint32_t used = (bench->tx_in + BENCH_TX_SIZE - bench->tx_out) % BENCH_TX_SIZE;
    if (used + wire >= BENCH_TX_SIZE)
        return; /* nobody reads */
    for (size_t k = 0; k < wire; k++) {
        bench->tx[bench->tx_in] = bench->wire[k];
        bench->tx_in = (bench->tx_in + 1) % BENCH_TX_SIZE;
    }
}

static void report_outputs(struct bench *bench)
{
    uint32_t before = port_lock();
    uint32_t contacts = bench_contacts(bench);
    bool load = bench->load;
    uint64_t changed_at = bench->changed_at;
    uint16_t state = (uint16_t)bench->device->safety.state;
    port_unlock(before);
    if (!bench->report_due && contacts == bench->reported_contacts && load == bench->reported_load)
        return;
    bench->report_due = false;
    bench->reported_contacts = contacts;
    bench->reported_load = load;
    uint8_t *out = bench->raw + FRAME_HEADER;
    put_u64(out, changed_at);
    put_u32(out + 8, contacts);
    out[12] = load;
    out[13] = bench->pull;
    put_u16(out + 14, state);
    send(bench, BENCH_OUTPUTS, 16);
}

/* Asks for scans whose instants had passed at now, and no others: so the bench has heard of every output before. */
static void ask_for_scans(struct bench *bench, uint64_t now)
{
    uint32_t before = port_lock();
    bool due = bench->pull && bench->scanning && bench->have_count == 0
            && (bench->wanted == 0 || now - bench->asked_at >= ASK_AGAIN_TICKS);
    uint64_t passed = due && now >= bench->next_need ? (now - bench->next_need) / bench->scan_period + 1 : 0;
    uint32_t most = (FRAME_MAX_PAYLOAD - SCANS_HEADER) / 2 / (bench->scan_channels ? bench->scan_channels : 1u);
    uint16_t count = (uint16_t)(passed < most ? passed : most);
    if (due && bench->wanted != 0)
        count = bench->wanted; /* the same again */
    due = due && count > 0;
    if (due) {
        bench->wanted = count;
        bench->asked_at = now;
    }
    uint64_t first = bench->next_need;
    uint32_t period = bench->scan_period;
    uint32_t mask = bench->scan_mask;
    port_unlock(before);
    if (!due)
        return;
    uint8_t *out = bench->raw + FRAME_HEADER;
    put_u64(out, first);
    put_u32(out + 8, period);
    put_u32(out + 12, mask);
    put_u16(out + 16, count);
    put_u16(out + 18, 0);
    send(bench, BENCH_NEED, 20);
}

static void take_scans(struct bench *bench, const struct frame *frame)
{
    const uint8_t *in = frame->payload;
    uint64_t first = get_u64(in);
    uint16_t count = get_u16(in + 8);
    uint16_t channels = get_u16(in + 10);
    size_t samples = (size_t)count * channels;
    bool fits = bench->scanning && bench->wanted != 0 && first == bench->next_need && count == bench->wanted
            && channels == bench->scan_channels && frame->length == SCANS_HEADER + 2 * samples;
    if (!fits)
        return; /* of a job that is over */
    for (size_t k = 0; k < samples; k++)
        bench->have[k] = (int16_t)get_u16(in + SCANS_HEADER + 2 * k);
    bench->have_first = first;
    bench->have_count = count;
    bench->wanted = 0;
    bench->next_need = first + (uint64_t)count * bench->scan_period;
}

static void take_levels(struct bench *bench, const struct frame *frame)
{
    uint32_t mask = get_u32(frame->payload);
    size_t at = 4;
    for (unsigned c = 0; c < PORT_MAX_CHANNELS; c++)
        if ((mask >> c & 1) && at + 2 <= frame->length) {
            bench->level[c] = (int16_t)get_u16(frame->payload + at);
            at += 2;
        }
}

static void take_wave(struct bench *bench, const struct frame *frame)
{
    const uint8_t *in = frame->payload;
    uint16_t points = get_u16(in + 2);
    uint32_t period = get_u32(in + 4);
    if (in[0] >= PORT_MAX_CHANNELS || points > BENCH_WAVE_POINTS || frame->length < 8u + 2u * points || period == 0)
        return;
    for (uint16_t k = 0; k < points; k++)
        bench->wave[k] = (int16_t)get_u16(in + 8 + 2 * k);
    bench->wave_channel = in[0];
    bench->wave_points = points;
    bench->wave_period = period;
}

static void obey(struct bench *bench, const struct frame *frame)
{
    const uint8_t *in = frame->payload;
    switch (frame->type) {
    case BENCH_LEVELS:
        if (frame->length >= 4)
            take_levels(bench, frame);
        break;
    case BENCH_SOURCE:
        if (frame->length >= 1)
            bench->pull = in[0] == 1;
        break;
    case BENCH_SCANS:
        if (frame->length >= SCANS_HEADER)
            take_scans(bench, frame);
        break;
    case BENCH_INPUTS:
        if (frame->length >= 2)
            bench->inputs = get_u16(in);
        break;
    case BENCH_STUCK:
        if (frame->length >= 8) {
            bench->stuck_mask = get_u32(in);
            bench->stuck_value = get_u32(in + 4);
        }
        break;
    case BENCH_WAVE:
        if (frame->length >= 8)
            take_wave(bench, frame);
        break;
    case BENCH_HANG:
        bench->hang = true;
        break;
    case BENCH_FAULTS:
        if (frame->length >= 4)
            bench->faults = get_u32(in);
        break;
    case BENCH_ASK:
        bench->report_due = true;
        break;
    case BENCH_GRANT:
        if (frame->length >= 4) {
            bench->granted = get_u32(in);
            bench->grants++;
        }
        break;
    default:
        break;
    }
}

void bench_poll(struct bench *bench)
{
    struct frame frame;
    while (bench->rx_out != bench->rx_in) {
        uint8_t byte = bench->rx[bench->rx_out];
        bench->rx_out = (bench->rx_out + 1) % BENCH_RX_SIZE;
        if (frame_receive(&bench->receiver, byte, &frame) != FRAME_COMPLETE)
            continue;
        uint32_t before = port_lock();
        obey(bench, &frame);
        port_unlock(before);
    }
    uint64_t now = device_now(bench->device);
    report_outputs(bench);
    ask_for_scans(bench, now);
}

size_t bench_transmit(struct bench *bench, uint8_t *out, size_t max)
{
    size_t n = 0;
    while (n < max && bench->tx_out != bench->tx_in) {
        out[n++] = bench->tx[bench->tx_out];
        bench->tx_out = (bench->tx_out + 1) % BENCH_TX_SIZE;
    }
    return n;
}

bool bench_sending(const struct bench *bench)
{
    return bench->tx_out != bench->tx_in;
}

bool bench_idle(const struct bench *bench)
{
    return !bench_sending(bench) && bench->rx_in == bench->rx_out;
}

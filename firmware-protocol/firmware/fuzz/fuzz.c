/*
 * The whole device against inputs of any kind: bytes, well-formed requests with arbitrary payloads, time, signals, a host that
 * does not read, a storage that fails. After each step what must always hold is looked at; breaking it aborts.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../core/bytes.h"
#include "../core/messages.h"
#include "../test/fake_board.h"

#include "fuzz.h"

uint64_t fuzz_frames;

static const uint8_t *input;
static size_t left;
static struct frame_receiver host;

static uint8_t next(void)
{
    if (left == 0)
        return 0;
    left--;
    return *input++;
}

static uint16_t next16(void)
{
    uint16_t low = next();
    return (uint16_t)(low | next() << 8);
}

#define MUST(condition) \
    do { \
        if (!(condition)) { \
            fprintf(stderr, "broken: %s\n", #condition); \
            abort(); \
        } \
    } while (0)

static void read_sent(void)
{
    uint8_t bytes[512];
    size_t count;
    struct frame frame;
    while ((count = device_transmit(&device, bytes, sizeof bytes)) > 0)
        for (size_t k = 0; k < count; k++) {
            enum frame_result result = frame_receive(&host, bytes[k], &frame);
            MUST(result == FRAME_NOTHING || result == FRAME_COMPLETE);
            MUST(result != FRAME_COMPLETE || frame.kind != FRAME_REQUEST);
        }
}

static void step(uint32_t ticks)
{
    while (ticks-- > 0) {
        board.time_us += fake_settings.limit_period_us;
        device_tick(&device);
        const struct safety *safety = &device.safety;
        MUST(!safety_energised(safety)
                || device_now(&device) - safety->fed_at < (uint64_t)safety->timeout_ms * 1000);
        MUST(!board.load_enable || safety->state == STATE_ACTIVE);
        MUST(board.coils == 0 || safety_energised(safety) || safety->releasing);
        MUST(!safety_energised(safety) || (board.inputs & 1));
        MUST(safety->state != STATE_TRIPPED || safety->latched != 0);
        device_poll(&device);
    }
}

static void request(uint16_t type, uint8_t *payload, uint16_t length, bool retry)
{
    static uint16_t seq;
    if (!retry)
        seq++;
    fuzz_frames++;
    fake_request(retry ? FRAME_RETRY : 0, seq, type, payload, length);
    device_poll(&device);
}

static void any_request(void)
{
    static const uint16_t types[] = {1, 2, 3, 4, 5, 6, 7, 8, 0x10, 0x11, 0x12, 0x13, 0x14, 0x20, 0x21, 0x30, 0x31, 0x32,
        0x33, 0x34, 0x38, 0x39, 0x3A, 0x40, 0x41, 0x42, 0x50, 0x51, 0x99};
    uint8_t payload[256] = {0};
    uint8_t choice = next();
    uint16_t length = next();
    for (uint16_t k = 0; k < length; k++)
        payload[k] = next();
    request(types[choice % (sizeof types / sizeof *types)], payload, length, choice & 0x80);
}

/* Requests that get far: right token, present capture. */
static void apt_request(void)
{
    uint8_t payload[32] = {0};
    uint32_t token = device.safety.token;
    switch (next() % 8) {
    case 0:
        put_u32(payload, RP_ARM_REQUEST_MAGIC_MIN);
        put_u16(payload + RP_ARM_REQUEST_TIMEOUT_MS, (uint16_t)(200 + next()));
        request(RP_ARM, payload, RP_ARM_REQUEST_SIZE, false);
        break;
    case 1:
        put_u32(payload, next());
        put_u32(payload + 4, next());
        put_u32(payload + 8, token);
        request(RP_RELAY_SET, payload, RP_RELAY_SET_REQUEST_SIZE, false);
        break;
    case 2:
        payload[0] = 1;
        put_u32(payload + 4, token);
        request(RP_LOAD_ENABLE_SET, payload, RP_LOAD_ENABLE_SET_REQUEST_SIZE, false);
        break;
    case 3:
        put_u32(payload + 4, token);
        request(RP_HEARTBEAT, payload, RP_HEARTBEAT_REQUEST_SIZE, false);
        break;
    case 4:
        put_u32(payload, next16());
        payload[4] = next() % 6;
        put_u32(payload + 8, (uint32_t)5 + next());
        put_u32(payload + 12, (uint32_t)1 + next16() % 1000);
        put_u32(payload + 16, payload[4] ? next() : 0);
        put_u32(payload + 24, next());
        request(RP_CAPTURE_CONFIGURE, payload, RP_CAPTURE_CONFIGURE_REQUEST_SIZE, false);
        break;
    case 5:
        put_u16(payload, device.sampler.capture.id);
        payload[2] = (uint8_t)(1 + next() % 3);
        request(RP_CAPTURE_CONTROL, payload, RP_CAPTURE_CONTROL_REQUEST_SIZE, false);
        break;
    case 6:
        put_u16(payload, device.sampler.capture.id);
        put_u32(payload + 4, next());
        put_u32(payload + 8, (uint32_t)1 + next());
        request(RP_CAPTURE_READ, payload, RP_CAPTURE_READ_REQUEST_SIZE, false);
        break;
    default:
        put_u16(payload, device.sampler.stream.id);
        put_u16(payload + 2, next());
        request(RP_STREAM_CREDIT, payload, RP_STREAM_CREDIT_REQUEST_SIZE, false);
        break;
    }
}

static void change_signals(void)
{
    uint8_t what = next();
    switch (what % 6) {
    case 0:
        board.level[next() % FAKE_CHANNELS] = (int16_t)next16();
        break;
    case 1:
        board.inputs = next16();
        step(1);
        break;
    case 2:
        board.stuck_mask = next();
        board.stuck_value = next();
        break;
    case 3:
        board.lose_scans = next();
        break;
    case 4:
        board.writes_left = next() & 1 ? next() : -1;
        break;
    default:
        board.ramp = what & 0x40;
        board.adc_late = what & 0x80;
        break;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    input = data;
    left = size;
    memset(board.slots, 0xFF, sizeof board.slots);
    fake_start(next16() * 65536ull * 4, 1u + next());
    frame_receiver_reset(&host);
    while (left > 0) {
        uint8_t op = next();
        switch (op % 7) {
        case 0:
            for (uint8_t count = next(); count > 0 && left > 0; count--) {
                uint8_t byte = next();
                fuzz_frames += byte == 0;
                device_received(&device, byte);
            }
            device_poll(&device);
            break;
        case 1:
            any_request();
            break;
        case 2:
        case 3:
            apt_request();
            break;
        case 4:
            change_signals();
            break;
        case 5:
            read_sent();
            break;
        default:
            step(op >> 3);
            break;
        }
    }
    step(100);
    read_sent();
    /* left alone for as long as a heartbeat may last at most: everything is off */
    board.inputs |= 1;
    step(4200);
    MUST(!board.load_enable && board.coils == 0);
    return 0;
}

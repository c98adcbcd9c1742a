/* Averages, captures, streams. */
#include <string.h>

#include "../core/bytes.h"
#include "../core/commands.h"
#include "../core/crc32.h"
#include "../core/messages.h"
#include "check.h"
#include "fake_board.h"

static struct fake_frame frames[256];
static uint16_t seq;

static struct fake_frame ask(uint16_t type, const void *payload, uint16_t length)
{
    return fake_ask(0, seq++, type, payload, length);
}

static void boot(void)
{
    fake_start(0, 42);
    fake_run(20000);
    fake_sent(frames, 256);
}

static void put_average(uint8_t *request, uint32_t mask, uint16_t samples, uint32_t period)
{
    memset(request, 0, RP_ANALOG_READ_REQUEST_SIZE);
    put_u32(request, mask);
    put_u16(request + RP_ANALOG_READ_REQUEST_SAMPLES, samples);
    put_u32(request + RP_ANALOG_READ_REQUEST_PERIOD_TICKS, period);
}

static void an_average_sums_deviations_and_answers_when_it_is_done(void)
{
    boot();
    board.ramp = true;
    uint8_t request[RP_ANALOG_READ_REQUEST_SIZE];
    put_average(request, 0x80000001u, 100, 10);
    fake_request(0, 500, RP_ANALOG_READ, request, sizeof request);
    device_poll(&device);
    fake_request(FRAME_RETRY, 500, RP_ANALOG_READ, request, sizeof request); /* dropped: in work */
    CHECK_EQUAL(ERROR_BUSY, get_u16(fake_ask(0, 501, RP_ANALOG_READ, request, sizeof request).payload));
    CHECK_EQUAL(FRAME_RESPONSE, fake_ask(0, 502, RP_STATUS_READ, "", 0).kind); /* served meanwhile */
    fake_run(5000);
    CHECK_EQUAL(1, fake_sent(frames, 256));
    const uint8_t *got = frames[0].payload;
    CHECK_EQUAL(RP_ANALOG_READ_RESPONSE_SIZE + 2 * RP_ANALOG_READ_RESPONSE_GROUP, frames[0].length);
    uint64_t start = get_u64(got);
    CHECK_EQUAL(20001, start);
    for (int k = 0; k < 2; k++, got += RP_ANALOG_READ_RESPONSE_GROUP) {
        CHECK_EQUAL((int16_t)(start + (k ? 31 : 0)), get_i32(got + RP_ANALOG_READ_RESPONSE_FIRST));
        CHECK_EQUAL((int16_t)(start + (k ? 31 : 0) + 990), get_i32(got + RP_ANALOG_READ_RESPONSE_HIGHEST));
        /* deviations 0, 10, ..., 990: sum 10 n(n-1)/2, squares 100 (n-1)n(2n-1)/6 */
        CHECK_EQUAL(49500, get_u64(got + RP_ANALOG_READ_RESPONSE_SUM));
        CHECK_EQUAL(100ll * 99 * 100 * 199 / 6, get_u64(got + RP_ANALOG_READ_RESPONSE_SQUARES));
    }
    /* asked again afterwards: the same answer from memory */
    CHECK_EQUAL(start, get_u64(fake_ask(FRAME_RETRY, 500, RP_ANALOG_READ, request, sizeof request).payload));
}

static void an_average_over_the_whole_range_does_not_overflow(void)
{
    boot();
    board.level[0] = -32768;
    uint8_t request[RP_ANALOG_READ_REQUEST_SIZE];
    put_average(request, 1, 4096, 500);
    fake_request(0, 1, RP_ANALOG_READ, request, sizeof request);
    device_poll(&device);
    fake_run(700);
    board.level[0] = 32767;
    fake_run(3000000);
    size_t count = fake_sent(frames, 256);
    const uint8_t *got = frames[count - 1].payload;
    uint64_t sum = get_u64(got + RP_ANALOG_READ_RESPONSE_SUM);
    CHECK_EQUAL(0, sum % 65535);
    CHECK(sum / 65535 >= 4090 && sum / 65535 <= 4095);
    CHECK_EQUAL(sum * 65535, get_u64(got + RP_ANALOG_READ_RESPONSE_SQUARES));
}

static void a_converter_that_fails_ends_the_reading_with_an_error(void)
{
    boot();
    uint8_t request[RP_ANALOG_READ_REQUEST_SIZE];
    put_average(request, 1, 10, 100);
    board.lose_scans = 1;
    fake_request(0, 1, RP_ANALOG_READ, request, sizeof request);
    fake_run(5000);
    CHECK_EQUAL(1, fake_sent(frames, 256));
    CHECK_EQUAL(ERROR_HARDWARE, get_u16(frames[0].payload));
    board.adc_late = true;
    fake_request(0, 2, RP_ANALOG_READ, request, sizeof request);
    fake_run(4900000);
    CHECK_EQUAL(0, fake_sent(frames, 256));
    fake_run(200000);
    CHECK_EQUAL(1, fake_sent(frames, 256));
    CHECK_EQUAL(ERROR_HARDWARE, get_u16(frames[0].payload));
}

static struct fake_frame configure(const struct capture_plan *plan)
{
    uint8_t request[RP_CAPTURE_CONFIGURE_REQUEST_SIZE] = {0};
    put_u32(request, plan->mask);
    request[RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER] = plan->trigger;
    request[RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_CHANNEL] = plan->trigger_channel;
    put_u32(request + RP_CAPTURE_CONFIGURE_REQUEST_PERIOD_TICKS, plan->period);
    put_u32(request + RP_CAPTURE_CONFIGURE_REQUEST_SCANS, plan->scans);
    put_u32(request + RP_CAPTURE_CONFIGURE_REQUEST_PRE_SCANS, plan->pre_scans);
    put_u32(request + RP_CAPTURE_CONFIGURE_REQUEST_LEVEL_CODE, (uint32_t)plan->level);
    put_u32(request + RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_TIMEOUT_MS, plan->timeout_ms);
    return ask(RP_CAPTURE_CONFIGURE, request, sizeof request);
}

static uint8_t control(uint16_t id, uint8_t op)
{
    uint8_t request[RP_CAPTURE_CONTROL_REQUEST_SIZE] = {(uint8_t)id, (uint8_t)(id >> 8), op};
    struct fake_frame answer = ask(RP_CAPTURE_CONTROL, request, sizeof request);
    return answer.kind == FRAME_RESPONSE ? answer.payload[2] : 0xFF;
}

/* Reads a block back into codes and compares the checksum; the number of data frames. */
static unsigned read_back(uint16_t id, uint32_t scans, unsigned channels, int16_t *codes)
{
    struct fake_frame status = ask(RP_CAPTURE_STATUS, "", 0);
    CHECK_EQUAL(CAPTURE_DONE, status.payload[2]);
    uint8_t request[RP_CAPTURE_READ_REQUEST_SIZE] = {(uint8_t)id, (uint8_t)(id >> 8)};
    put_u32(request + 8, scans);
    fake_request(0, seq++, RP_CAPTURE_READ, request, sizeof request);
    for (int k = 0; k < 100; k++)
        fake_run(1000);
    size_t count = fake_sent(frames, 256);
    uint32_t crc = CRC32_START;
    uint32_t next = 0;
    for (size_t k = 0; k + 1 < count; k++) {
        CHECK_EQUAL(FRAME_DATA, frames[k].kind);
        CHECK_EQUAL(next, get_u32(frames[k].payload + RP_SAMPLE_DATA_DATA_OFFSET));
        uint32_t here = get_u16(frames[k].payload + RP_SAMPLE_DATA_DATA_COUNT);
        for (uint32_t j = 0; j < here * channels; j++)
            codes[next * channels + j] = (int16_t)get_u16(frames[k].payload + RP_SAMPLE_DATA_DATA_SAMPLE + 2 * j);
        crc = crc32_update(crc, frames[k].payload + RP_SAMPLE_DATA_DATA_SAMPLE, here * channels * 2);
        next += here;
    }
    CHECK_EQUAL(scans, next);
    CHECK_EQUAL(get_u32(status.payload + RP_CAPTURE_STATUS_RESPONSE_BLOCK_CRC), crc32_end(crc));
    CHECK_EQUAL(FRAME_RESPONSE, frames[count - 1].kind);
    CHECK_EQUAL(count - 1, get_u16(frames[count - 1].payload + RP_CAPTURE_READ_RESPONSE_FRAGMENTS));
    return (unsigned)count - 1;
}

static int16_t codes[FAKE_BUFFER];

static void a_capture_keeps_every_scan_at_its_instant(void)
{
    boot();
    board.ramp = true;
    struct capture_plan plan = {.mask = 0x80000003u, .period = 20, .scans = 2730};
    uint16_t id = get_u16(configure(&plan).payload);
    CHECK_EQUAL(CAPTURE_FILLING, control(id, 1));
    fake_run(2730 * 20 + 5000);
    struct fake_frame status = ask(RP_CAPTURE_STATUS, "", 0);
    uint64_t start = get_u64(status.payload + RP_CAPTURE_STATUS_RESPONSE_START_TICKS);
    CHECK_EQUAL(20001, start);
    CHECK(read_back(id, 2730, 3, codes) > 10);
    for (unsigned s = 0; s < 2730; s++) {
        CHECK_EQUAL((int16_t)(start + s * 20), codes[3 * s]);
        CHECK_EQUAL((int16_t)(start + s * 20 + 31), codes[3 * s + 2]);
    }
}

static void the_scans_before_the_trigger_are_kept(void)
{
    boot();
    board.ramp = true;
    struct capture_plan plan = {.mask = 1, .trigger = TRIGGER_HOST, .period = 100, .scans = 500, .pre_scans = 200};
    uint16_t id = get_u16(configure(&plan).payload);
    CHECK_EQUAL(CAPTURE_WAIT_TRIGGER, control(id, 1));
    fake_run(333333);
    uint64_t edge = board.time_us;
    control(id, 2);
    fake_run(100000);
    struct fake_frame status = ask(RP_CAPTURE_STATUS, "", 0);
    CHECK_EQUAL(200, get_u32(status.payload + RP_CAPTURE_STATUS_RESPONSE_TRIGGER_SCAN));
    uint64_t start = get_u64(status.payload + RP_CAPTURE_STATUS_RESPONSE_START_TICKS);
    uint64_t trigger = start + 200 * 100;
    CHECK(trigger >= edge && trigger < edge + 100);
    read_back(id, 500, 1, codes);
    for (unsigned s = 0; s < 500; s++)
        CHECK_EQUAL((int16_t)(start + s * 100), codes[s]);
}

static void a_trigger_that_comes_early_is_taken_all_the_same(void)
{
    boot();
    struct capture_plan plan = {.mask = 1, .trigger = TRIGGER_HOST, .period = 100, .scans = 500, .pre_scans = 200};
    uint16_t id = get_u16(configure(&plan).payload);
    control(id, 1);
    fake_run(5000);
    control(id, 2);
    fake_run(100000);
    struct fake_frame status = ask(RP_CAPTURE_STATUS, "", 0);
    uint32_t trigger = get_u32(status.payload + RP_CAPTURE_STATUS_RESPONSE_TRIGGER_SCAN);
    CHECK(trigger >= 49 && trigger <= 51);
    CHECK_EQUAL(20001, get_u64(status.payload + RP_CAPTURE_STATUS_RESPONSE_START_TICKS));
}

static void levels_trigger_at_their_edge_only(void)
{
    for (int fall = 0; fall < 2; fall++) {
        boot();
        board.level[5] = (int16_t)(fall ? -500 : 500); /* on the far side already: no edge yet */
        struct capture_plan plan = {.mask = 0x21, .trigger = fall ? TRIGGER_LEVEL_FALL : TRIGGER_LEVEL_RISE,
            .trigger_channel = 5, .period = 100, .scans = 100, .pre_scans = 10};
        uint16_t id = get_u16(configure(&plan).payload);
        control(id, 1);
        fake_run(50000);
        CHECK_EQUAL(CAPTURE_WAIT_TRIGGER, device.sampler.capture.state);
        board.level[5] = (int16_t)(fall ? 500 : -500);
        fake_run(5000);
        CHECK_EQUAL(CAPTURE_WAIT_TRIGGER, device.sampler.capture.state);
        board.level[5] = 0;
        fake_run(20000);
        CHECK_EQUAL(CAPTURE_DONE, device.sampler.capture.state);
        read_back(id, 100, 2, codes);
        CHECK_EQUAL(fall ? 500 : -500, codes[2 * 9 + 1]);
        CHECK_EQUAL(0, codes[2 * 10 + 1]);
    }
}

static void a_capture_without_trigger_gives_up_and_a_lost_scan_voids_it(void)
{
    boot();
    struct capture_plan plan = {.mask = 1, .trigger = TRIGGER_FAULT, .period = 100, .scans = 50, .timeout_ms = 100};
    uint16_t id = get_u16(configure(&plan).payload);
    control(id, 1);
    fake_run(110000);
    CHECK_EQUAL(CAPTURE_ABORTED, device.sampler.capture.state);
    plan.trigger = TRIGGER_IMMEDIATE;
    plan.timeout_ms = 0;
    id = get_u16(configure(&plan).payload);
    board.lose_scans = 1;
    control(id, 1);
    fake_run(10000);
    struct fake_frame status = ask(RP_CAPTURE_STATUS, "", 0);
    CHECK_EQUAL(CAPTURE_OVERRUN, status.payload[2]);
    CHECK_EQUAL(1, get_u32(status.payload + RP_CAPTURE_STATUS_RESPONSE_DROPPED));
}

static void bad_plans_are_refused_with_the_byte_of_the_field(void)
{
    static const struct {
        struct capture_plan plan;
        unsigned detail;
    } bad[] = {
        {{.mask = 0, .period = 10, .scans = 1}, RP_CAPTURE_CONFIGURE_REQUEST_CHANNEL_MASK},
        {{.mask = 1, .period = 10, .scans = 1, .trigger = 6}, RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER},
        {{.mask = 1, .period = 10, .scans = 1, .trigger = 2, .trigger_channel = 1},
            RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_CHANNEL},
        {{.mask = 1, .period = 4, .scans = 1}, RP_CAPTURE_CONFIGURE_REQUEST_PERIOD_TICKS},
        {{.mask = 1, .period = 10, .scans = 0}, RP_CAPTURE_CONFIGURE_REQUEST_SCANS},
        {{.mask = 0xFFFFFFFF, .period = 10, .scans = 0x08000001}, RP_CAPTURE_CONFIGURE_REQUEST_SCANS},
        {{.mask = 1, .period = 10, .scans = 5, .pre_scans = 1}, RP_CAPTURE_CONFIGURE_REQUEST_PRE_SCANS},
        {{.mask = 1, .period = 10, .scans = 5, .trigger = 1, .pre_scans = 5}, RP_CAPTURE_CONFIGURE_REQUEST_PRE_SCANS},
        {{.mask = 1, .period = 10, .scans = 5, .timeout_ms = 600001}, RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_TIMEOUT_MS},
    };
    boot();
    for (size_t k = 0; k < sizeof bad / sizeof *bad; k++) {
        struct fake_frame refused = configure(&bad[k].plan);
        CHECK_EQUAL(FRAME_ERROR, refused.kind);
        CHECK_EQUAL(ERROR_BAD_VALUE, get_u16(refused.payload));
        CHECK_EQUAL(bad[k].detail, get_u16(refused.payload + 2));
    }
}

static uint16_t start_stream(uint32_t mask, uint32_t period, uint16_t credits)
{
    uint8_t request[RP_STREAM_START_REQUEST_SIZE] = {0};
    put_u32(request, mask);
    put_u32(request + 4, period);
    put_u16(request + 8, credits);
    return get_u16(ask(RP_STREAM_START, request, sizeof request).payload);
}

static struct fake_frame credit(uint16_t id, uint16_t credits)
{
    uint8_t request[RP_STREAM_CREDIT_REQUEST_SIZE];
    put_u16(request, id);
    put_u16(request + 2, credits);
    return ask(RP_STREAM_CREDIT, request, sizeof request);
}

static void a_stream_uses_its_credits_and_shows_its_gaps(void)
{
    boot();
    board.ramp = true;
    uint16_t id = start_stream(3, 50, 4);
    uint64_t start = 20001;
    fake_run(500000); /* 10 000 scans; the buffer holds 4096 */
    size_t count = fake_sent(frames, 256);
    CHECK_EQUAL(4, count);
    uint32_t next = 0;
    for (size_t k = 0; k < count; k++) {
        CHECK_EQUAL(next, get_u32(frames[k].payload + RP_SAMPLE_DATA_DATA_OFFSET));
        next += get_u16(frames[k].payload + RP_SAMPLE_DATA_DATA_COUNT);
    }
    CHECK_EQUAL(4 * 253, next);
    struct fake_frame state = credit(id, 0);
    uint32_t dropped = get_u32(state.payload + RP_STREAM_CREDIT_RESPONSE_DROPPED);
    CHECK_EQUAL(10000 - 4 * 253 - 4096, dropped);
    uint8_t more[RP_STREAM_CREDIT_REQUEST_SIZE];
    put_u16(more, id);
    put_u16(more + 2, 1000);
    fake_request(0, seq++, RP_STREAM_CREDIT, more, sizeof more);
    fake_run(100000);
    count = fake_sent(frames, 256);
    unsigned gaps = 0;
    for (size_t k = 0; k < count; k++) {
        if (frames[k].kind != FRAME_DATA)
            continue;
        uint32_t first = get_u32(frames[k].payload + RP_SAMPLE_DATA_DATA_OFFSET);
        uint32_t here = get_u16(frames[k].payload + RP_SAMPLE_DATA_DATA_COUNT);
        gaps += first != next;
        CHECK(first >= next);
        for (uint32_t j = 0; j < here; j++)
            CHECK_EQUAL((int16_t)(start + 50ull * (first + j)),
                    (int16_t)get_u16(frames[k].payload + RP_SAMPLE_DATA_DATA_SAMPLE + 4 * j));
        next = first + here;
    }
    CHECK_EQUAL(1, gaps);
    uint8_t stop[RP_STREAM_STOP_REQUEST_SIZE] = {(uint8_t)id, (uint8_t)(id >> 8)};
    struct fake_frame stopped = ask(RP_STREAM_STOP, stop, sizeof stop);
    CHECK_EQUAL(12000, get_u32(stopped.payload + RP_STREAM_STOP_RESPONSE_SCANS));
    fake_run(100000);
    CHECK_EQUAL(0, fake_sent(frames, 256));
    CHECK_EQUAL(ERROR_NO_DATA, get_u16(credit(id, 1).payload));
}

static void a_slow_stream_sends_within_100_ms_and_ends_with_the_session(void)
{
    boot();
    start_stream(1, 10000, 100);
    fake_run(300000);
    CHECK(fake_sent(frames, 256) >= 3);
    CHECK_EQUAL(ERROR_BUSY, get_u16(ask(RP_SELF_TEST, "\1\0\0\0", 4).payload));
    fake_ask(0, 1, RP_IDENTIFY, "\1\0\1\0", 4);
    CHECK_EQUAL(JOB_NONE, device.sampler.job);
}

void sampling_tests(void)
{
    RUN(an_average_sums_deviations_and_answers_when_it_is_done);
    RUN(an_average_over_the_whole_range_does_not_overflow);
    RUN(a_converter_that_fails_ends_the_reading_with_an_error);
    RUN(a_capture_keeps_every_scan_at_its_instant);
    RUN(the_scans_before_the_trigger_are_kept);
    RUN(a_trigger_that_comes_early_is_taken_all_the_same);
    RUN(levels_trigger_at_their_edge_only);
    RUN(a_capture_without_trigger_gives_up_and_a_lost_scan_voids_it);
    RUN(bad_plans_are_refused_with_the_byte_of_the_field);
    RUN(a_stream_uses_its_credits_and_shows_its_gaps);
    RUN(a_slow_stream_sends_within_100_ms_and_ends_with_the_session);
}

/* States, heartbeat, faults, outputs, repeated requests. Times are the device's own. */
#include <string.h>

#include "../core/bytes.h"
#include "../core/commands.h"
#include "../core/messages.h"
#include "check.h"
#include "fake_board.h"

static uint32_t token;
static uint16_t seq;

static struct fake_frame ask(uint16_t type, const void *payload, uint16_t length)
{
    return fake_ask(0, seq++, type, payload, length);
}

static void boot(void)
{
    fake_start(0, 99);
    fake_run(20000);
    CHECK_EQUAL(STATE_SAFE, device.safety.state);
}

static void arm(uint16_t timeout_ms)
{
    uint8_t request[RP_ARM_REQUEST_SIZE] = {0};
    put_u32(request, RP_ARM_REQUEST_MAGIC_MIN);
    put_u32(request + RP_ARM_REQUEST_NONCE, seq);
    put_u16(request + RP_ARM_REQUEST_TIMEOUT_MS, timeout_ms);
    struct fake_frame armed = ask(RP_ARM, request, sizeof request);
    CHECK_EQUAL(FRAME_RESPONSE, armed.kind);
    token = get_u32(armed.payload);
    CHECK(token != 0);
}

static struct fake_frame relays(uint32_t mask, uint32_t value)
{
    uint8_t request[RP_RELAY_SET_REQUEST_SIZE];
    put_u32(request, mask);
    put_u32(request + 4, value);
    put_u32(request + 8, token);
    return ask(RP_RELAY_SET, request, sizeof request);
}

static struct fake_frame load(uint8_t on)
{
    uint8_t request[RP_LOAD_ENABLE_SET_REQUEST_SIZE] = {on};
    put_u32(request + 4, token);
    return ask(RP_LOAD_ENABLE_SET, request, sizeof request);
}

static struct fake_frame beat(uint32_t with)
{
    uint8_t request[RP_HEARTBEAT_REQUEST_SIZE] = {0};
    put_u32(request + 4, with);
    return ask(RP_HEARTBEAT, request, sizeof request);
}

static void activate(uint16_t timeout_ms)
{
    boot();
    arm(timeout_ms);
    CHECK_EQUAL(FRAME_RESPONSE, relays(3, 1).kind);
    fake_run(10000);
    CHECK_EQUAL(FRAME_RESPONSE, load(1).kind);
    CHECK_EQUAL(STATE_ACTIVE, device.safety.state);
    CHECK(board.load_enable);
    CHECK_EQUAL(1, board.coils);
}

static void a_silent_host_trips_in_time_load_first(void)
{
    activate(500);
    uint64_t fed = board.time_us;
    CHECK_EQUAL(1, beat(token).payload[RP_HEARTBEAT_RESPONSE_FED]);
    fake_run(499000);
    CHECK(board.load_enable);
    while (board.load_enable)
        fake_run(500);
    /* PROTOCOL.md section 8: time-out + 5 ms, then 1 ms; relays load_off_ms + 1 ms later */
    CHECK(board.time_us - fed <= 500000 + 5000 + 1000);
    CHECK_EQUAL(STATE_TRIPPED, device.safety.state);
    CHECK_EQUAL(FAULT_HOST_SILENT, device.safety.first_fault);
    uint64_t low = board.time_us;
    CHECK_EQUAL(1, board.coils);
    while (board.coils)
        fake_run(500);
    CHECK(board.time_us - low >= 9500 && board.time_us - low <= 11000);
}

static void only_a_heartbeat_with_the_token_feeds(void)
{
    activate(200);
    for (int k = 0; k < 4; k++) {
        fake_run(40000);
        CHECK_EQUAL(0, beat(token + 1).payload[RP_HEARTBEAT_RESPONSE_FED]);
        ask(RP_STATUS_READ, "", 0);
    }
    CHECK(board.load_enable);
    fake_run(50000);
    CHECK(!board.load_enable);
    CHECK_EQUAL(0, beat(token).payload[RP_HEARTBEAT_RESPONSE_FED]);
}

static void a_heartbeat_counts_from_its_delimiter(void)
{
    activate(200);
    uint8_t request[RP_HEARTBEAT_REQUEST_SIZE] = {0};
    put_u32(request + 4, token);
    fake_request(0, seq++, RP_HEARTBEAT, request, sizeof request);
    /* the main loop comes to it 150 ms later only */
    board.time_us += 150000;
    device_poll(&device);
    fake_run(49000);
    CHECK(board.load_enable);
    fake_run(3000);
    CHECK(!board.load_enable);
}

static void a_repeated_request_switches_once_with_the_same_answer(void)
{
    boot();
    arm(2000);
    uint8_t request[RP_RELAY_SET_REQUEST_SIZE];
    put_u32(request, 1);
    put_u32(request + 4, 1);
    put_u32(request + 8, token);
    struct fake_frame first = fake_ask(0, 700, RP_RELAY_SET, request, sizeof request);
    fake_run(20000); /* the contacts have moved: carried out again, the answer would differ */
    for (int again = 0; again < 3; again++) {
        struct fake_frame repeated = fake_ask(FRAME_RETRY, 700, RP_RELAY_SET, request, sizeof request);
        CHECK(memcmp(&first, &repeated, sizeof first) == 0);
    }
    CHECK_EQUAL(1, device.executions);
    CHECK_EQUAL(3, device.link.counters.repeats);
    put_u32(request + 4, 0);
    fake_ask(0, 700, RP_RELAY_SET, request, sizeof request); /* same seq, other payload: another request */
    CHECK_EQUAL(2, device.executions);
    uint8_t identify[] = {1, 0, 1, 0};
    fake_ask(0, 1, RP_IDENTIFY, identify, sizeof identify); /* a new session: old answers mean nothing */
    put_u32(request + 4, 1);
    fake_ask(FRAME_RETRY, 700, RP_RELAY_SET, request, sizeof request);
    CHECK_EQUAL(3, device.executions);
}

static void safe_state_works_everywhere_and_always(void)
{
    activate(2000);
    struct fake_frame off = fake_ask(0, 65535, RP_SAFE_STATE, "", 0);
    CHECK_EQUAL(STATE_SAFE, off.payload[RP_SAFE_STATE_RESPONSE_STATE]);
    CHECK(!board.load_enable);
    CHECK_EQUAL(FRAME_RESPONSE, fake_ask(0, 65535, RP_SAFE_STATE, "", 0).kind);
    fake_run(11000);
    CHECK_EQUAL(0, board.coils);
    fake_run(10000);
    /* the same seq again is carried out again */
    arm(2000);
    relays(1, 1);
    fake_run(10000);
    load(1);
    CHECK(board.load_enable);
    fake_ask(FRAME_RETRY, 65535, RP_SAFE_STATE, "", 0);
    CHECK(!board.load_enable);
}

static void safe_state_is_carried_out_with_a_full_transmit_buffer(void)
{
    activate(2000);
    static uint8_t echo[FRAME_MAX_PAYLOAD];
    for (int k = 0; k < 20; k++) {
        fake_request(0, seq++, RP_PING, echo, sizeof echo); /* a host that does not read */
        device_poll(&device);
    }
    CHECK(!link_has_room(&device.link, FRAME_MAX_PAYLOAD));
    fake_request(0, 65535, RP_SAFE_STATE, "", 0);
    device_poll(&device);
    CHECK(!board.load_enable);
    CHECK_EQUAL(STATE_SAFE, device.safety.state);
}

static void a_limit_trips_after_its_delay(void)
{
    activate(2000);
    uint8_t request[RP_LIMIT_SET_REQUEST_SIZE] = {31, 1};
    put_u32(request + 4, (uint32_t)-1000);
    put_u32(request + 8, 1000);
    put_u32(request + 12, 1700);
    struct fake_frame set = ask(RP_LIMIT_SET, request, sizeof request);
    CHECK_EQUAL(2000, get_u32(set.payload + RP_LIMIT_SET_RESPONSE_DELAY_US));
    fake_run(5000);
    board.level[31] = 1001;
    fake_run(1500);
    board.level[31] = 1000; /* a break: the delay begins anew */
    fake_run(1000);
    CHECK(board.load_enable);
    board.level[31] = -1001;
    uint64_t broken = board.time_us;
    while (board.load_enable && board.time_us < broken + 100000)
        fake_run(100);
    /* PROTOCOL.md LIMIT_SET: delay + 2 periods + 1 ms */
    CHECK(board.time_us - broken <= 2000 + 2 * 500 + 1000);
    struct fake_frame fault = ask(RP_FAULT_READ, "", 0);
    CHECK_EQUAL(FAULT_LIMIT_LOW, fault.payload[RP_FAULT_READ_RESPONSE_FIRST_FAULT]);
    CHECK_EQUAL(31, fault.payload[RP_FAULT_READ_RESPONSE_CHANNEL]);
    CHECK_EQUAL(-1001, get_i32(fault.payload + RP_FAULT_READ_RESPONSE_CODE));
    CHECK_EQUAL(1, get_u32(fault.payload + RP_FAULT_READ_RESPONSE_RELAYS));
}

static void an_open_interlock_trips_and_keeps_from_arming(void)
{
    activate(2000);
    board.inputs &= (uint16_t)~1;
    fake_run(1000);
    CHECK(!board.load_enable);
    CHECK_EQUAL(STATE_TRIPPED, device.safety.state);
    uint8_t all[4] = {255, 255, 255, 255};
    CHECK_EQUAL(1 << FAULT_INTERLOCK_OPEN, get_u32(ask(RP_FAULT_CLEAR, all, 4).payload));
    board.inputs |= 1;
    CHECK_EQUAL(0, get_u32(ask(RP_FAULT_CLEAR, all, 4).payload));
    fake_run(30000);
    board.inputs &= (uint16_t)~1;
    uint8_t request[RP_ARM_REQUEST_SIZE] = {0};
    put_u32(request, RP_ARM_REQUEST_MAGIC_MIN);
    put_u16(request + RP_ARM_REQUEST_TIMEOUT_MS, 500);
    struct fake_frame refused = ask(RP_ARM, request, sizeof request);
    CHECK_EQUAL(ERROR_INTERLOCK, get_u16(refused.payload));
    CHECK_EQUAL(1, get_u16(refused.payload + 2));
}

static void a_contact_that_does_not_follow_trips(void)
{
    boot();
    arm(2000);
    board.stuck_mask = 2;
    relays(3, 3);
    CHECK_EQUAL(ERROR_BUSY, get_u16(load(1).payload));
    fake_run(9000);
    CHECK_EQUAL(STATE_TRIPPED, device.safety.state);
    CHECK_EQUAL(FAULT_RELAY_MISMATCH, device.safety.first_fault);
}

static void the_states_refuse_what_the_matrix_refuses(void)
{
    fake_start(0, 5);
    uint8_t arm_request[RP_ARM_REQUEST_SIZE] = {0};
    put_u32(arm_request, RP_ARM_REQUEST_MAGIC_MIN);
    put_u16(arm_request + RP_ARM_REQUEST_TIMEOUT_MS, 500);
    CHECK_EQUAL(ERROR_BAD_STATE, get_u16(ask(RP_ARM, arm_request, sizeof arm_request).payload));
    CHECK_EQUAL(ERROR_BAD_STATE, get_u16(ask(RP_FAULT_CLEAR, "\xff\xff\xff\xff", 4).payload));
    CHECK_EQUAL(FRAME_RESPONSE, ask(RP_SAFE_STATE, "", 0).kind);
    fake_run(20000);
    token = 1;
    CHECK_EQUAL(ERROR_NOT_ARMED, get_u16(relays(1, 1).payload));
    CHECK_EQUAL(ERROR_NOT_ARMED, get_u16(load(1).payload));
    CHECK_EQUAL(FRAME_RESPONSE, load(0).kind);
    CHECK_EQUAL(ERROR_BAD_TYPE, get_u16(ask(0x7777, "", 0).payload));
    CHECK_EQUAL(ERROR_BAD_LENGTH, get_u16(ask(RP_ARM, arm_request, 11).payload));
    arm(2000);
    CHECK_EQUAL(ERROR_BAD_STATE, get_u16(ask(RP_ARM, arm_request, sizeof arm_request).payload));
    CHECK_EQUAL(ERROR_BAD_VALUE, get_u16(relays(0x100, 1).payload));
    relays(1, 1);
    fake_run(10000);
    load(1);
    CHECK_EQUAL(ERROR_BAD_STATE, get_u16(relays(2, 2).payload));
    CHECK_EQUAL(FRAME_RESPONSE, relays(0x80, 0x80).kind); /* a hot relay */
    CHECK_EQUAL(ERROR_BAD_STATE, get_u16(ask(RP_RESET, "RSET", 4).payload));
    CHECK_EQUAL(0, board.resets);
    safety_trip(&device.safety, FAULT_INTERNAL, FAULT_NONE, 0, device_now(&device));
    CHECK_EQUAL(ERROR_FAULT_LATCHED, get_u16(load(1).payload));
    CHECK_EQUAL(ERROR_FAULT_LATCHED, get_u16(ask(RP_ARM, arm_request, sizeof arm_request).payload));
    struct fake_frame reset = ask(RP_RESET, "RSET", 4);
    CHECK_EQUAL(FRAME_RESPONSE, reset.kind);
    device_poll(&device);
    CHECK_EQUAL(1, board.resets);
}

static void no_token_comes_twice_and_none_outlives_its_arming(void)
{
    boot();
    static uint32_t seen[300];
    for (int k = 0; k < 300; k++) {
        arm(2000);
        for (int j = 0; j < k; j++)
            CHECK(seen[j] != token);
        seen[k] = token;
        ask(RP_SAFE_STATE, "", 0);
        CHECK_EQUAL(0, beat(token).payload[RP_HEARTBEAT_RESPONSE_FED]);
    }
}

static void the_clock_and_the_sequence_run_over_without_trouble(void)
{
    fake_start(0xFFFFFFFFull - 1000000, 3); /* the counter overflows after one second */
    fake_run(20000);
    device.link.counters.tx_frames = 0xFFFFFFFF;
    device.event_seq = 0xFFFF;
    seq = 65534;
    arm(2000);
    fake_run(1500000);
    CHECK(board.time_us > 0xFFFFFFFFull);
    CHECK_EQUAL(1, beat(token).payload[RP_HEARTBEAT_RESPONSE_FED]);
    uint8_t opaque[8] = {1, 2, 3, 4, 5, 6, 7, 8};
    struct fake_frame clock = ask(RP_CLOCK_READ, opaque, 8);
    CHECK_EQUAL(0, memcmp(opaque, clock.payload, 8));
    CHECK_EQUAL(1520000, get_u64(clock.payload + RP_CLOCK_READ_RESPONSE_RX_TICKS));
    fake_run(3000000);
    CHECK_EQUAL(FAULT_HOST_SILENT, device.safety.first_fault);
}

static void events_tell_what_happened_in_order(void)
{
    static struct fake_frame frames[64];
    activate(500);
    fake_sent(frames, 64);
    fake_run(600000);
    size_t count = fake_sent(frames, 64);
    CHECK_EQUAL(2, count);
    CHECK_EQUAL(EVENT_STATE_CHANGED, frames[0].payload[0]);
    CHECK_EQUAL(STATE_ACTIVE, get_u32(frames[0].payload + RP_EVENT_EVENT_DETAIL));
    CHECK_EQUAL(EVENT_TRIPPED, frames[1].payload[0]);
    CHECK_EQUAL(FAULT_HOST_SILENT, get_u32(frames[1].payload + RP_EVENT_EVENT_DETAIL));
    CHECK_EQUAL(frames[0].seq + 1, frames[1].seq);
    CHECK(frames[1].flags & FRAME_FAULT_LATCHED);
}

static void a_watchdog_reset_is_latched(void)
{
    fake_start(0, 7);
    device_init(&device, &fake_settings, 7, RESET_WATCHDOG);
    fake_run(20000);
    CHECK_EQUAL(STATE_TRIPPED, device.safety.state);
    CHECK_EQUAL(FAULT_WATCHDOG_RESET, device.safety.first_fault);
    CHECK_EQUAL(0, get_u32(ask(RP_FAULT_CLEAR, "\xff\xff\xff\xff", 4).payload));
    CHECK_EQUAL(STATE_SAFE, device.safety.state);
}

void device_tests(void)
{
    RUN(a_silent_host_trips_in_time_load_first);
    RUN(only_a_heartbeat_with_the_token_feeds);
    RUN(a_heartbeat_counts_from_its_delimiter);
    RUN(a_repeated_request_switches_once_with_the_same_answer);
    RUN(safe_state_works_everywhere_and_always);
    RUN(safe_state_is_carried_out_with_a_full_transmit_buffer);
    RUN(a_limit_trips_after_its_delay);
    RUN(an_open_interlock_trips_and_keeps_from_arming);
    RUN(a_contact_that_does_not_follow_trips);
    RUN(the_states_refuse_what_the_matrix_refuses);
    RUN(no_token_comes_twice_and_none_outlives_its_arming);
    RUN(the_clock_and_the_sequence_run_over_without_trouble);
    RUN(events_tell_what_happened_in_order);
    RUN(a_watchdog_reset_is_latched);
}

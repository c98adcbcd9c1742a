/* The stored record and the self-test. */
#include <string.h>

#include "../core/bytes.h"
#include "../core/commands.h"
#include "../core/crc32.h"
#include "../core/messages.h"
#include "check.h"
#include "fake_board.h"

static uint16_t seq;

static struct fake_frame ask(uint16_t type, const void *payload, uint16_t length)
{
    return fake_ask(0, seq++, type, payload, length);
}

static void boot(void)
{
    fake_start(0, 17);
    fake_run(20000);
}

static struct fake_frame commit(const uint8_t *record, uint16_t length)
{
    uint8_t request[RP_CAL_WRITE_REQUEST_SIZE + 64];
    for (uint16_t at = 0; at < length; at = (uint16_t)(at + 64)) {
        uint16_t count = length - at < 64 ? (uint16_t)(length - at) : 64;
        memset(request, 0, sizeof request);
        put_u16(request, at);
        memcpy(request + RP_CAL_WRITE_REQUEST_DATA, record + at, count);
        CHECK_EQUAL(FRAME_RESPONSE, ask(RP_CAL_WRITE, request, (uint16_t)(RP_CAL_WRITE_REQUEST_SIZE + count)).kind);
    }
    uint8_t last[RP_CAL_COMMIT_REQUEST_SIZE] = {0};
    put_u32(last, RP_CAL_COMMIT_REQUEST_MAGIC_MIN);
    put_u32(last + RP_CAL_COMMIT_REQUEST_RECORD_CRC, crc32_of(record, length));
    put_u16(last + RP_CAL_COMMIT_REQUEST_LENGTH, length);
    return ask(RP_CAL_COMMIT, last, sizeof last);
}

static struct fake_frame read(uint16_t offset, uint16_t count)
{
    uint8_t request[RP_CAL_READ_REQUEST_SIZE];
    put_u16(request, offset);
    put_u16(request + 2, count);
    return ask(RP_CAL_READ, request, sizeof request);
}

static void fill(uint8_t *record, uint16_t length, unsigned seed)
{
    for (uint16_t k = 0; k < length; k++)
        record[k] = (uint8_t)(k * 7 + seed);
}

static void a_record_outlives_a_restart(void)
{
    uint8_t record[300];
    memset(board.slots, 0xFF, sizeof board.slots);
    boot();
    CHECK_EQUAL(ERROR_NO_DATA, get_u16(read(0, 10).payload));
    fill(record, 300, 1);
    struct fake_frame stored = commit(record, 300);
    CHECK_EQUAL(1, get_u32(stored.payload));
    boot();
    struct fake_frame back = read(100, 1000);
    CHECK_EQUAL(300, get_u16(back.payload + RP_CAL_READ_RESPONSE_LENGTH));
    CHECK_EQUAL(RP_CAL_READ_RESPONSE_SIZE + 200, back.length);
    CHECK(memcmp(record + 100, back.payload + RP_CAL_READ_RESPONSE_DATA, 200) == 0);
    CHECK_EQUAL(ERROR_BAD_VALUE, get_u16(read(300, 1).payload));
}

static void a_loss_of_power_at_any_byte_leaves_the_old_record_or_the_new(void)
{
    uint8_t old_record[100], new_record[60];
    memset(board.slots, 0xFF, sizeof board.slots);
    boot();
    fill(old_record, 100, 1);
    fill(new_record, 60, 2);
    commit(old_record, 100);
    unsigned kept = 0;
    unsigned changed = 0;
    for (long cut = 0; cut <= 60 + 16; cut++) {
        uint8_t before[2][FAKE_STORE + 16];
        boot();
        memcpy(before, board.slots, sizeof before);
        board.writes_left = cut;
        struct fake_frame answer = commit(new_record, 60);
        boot();
        struct fake_frame back = read(0, 1000);
        CHECK_EQUAL(FRAME_RESPONSE, back.kind);
        uint16_t length = get_u16(back.payload + RP_CAL_READ_RESPONSE_LENGTH);
        const uint8_t *data = back.payload + RP_CAL_READ_RESPONSE_DATA;
        bool is_old = length == 100 && memcmp(data, old_record, 100) == 0;
        bool is_new = length == 60 && memcmp(data, new_record, 60) == 0;
        CHECK(is_old || is_new);
        CHECK_EQUAL(answer.kind == FRAME_RESPONSE, is_new);
        kept += is_old;
        changed += is_new;
        memcpy(board.slots, before, sizeof before);
    }
    CHECK_EQUAL(76, kept);
    CHECK_EQUAL(1, changed);
}

static void a_damaged_record_is_found_and_the_other_slot_taken(void)
{
    uint8_t record[50];
    memset(board.slots, 0xFF, sizeof board.slots);
    boot();
    fill(record, 50, 1);
    commit(record, 50);
    fill(record, 50, 2);
    CHECK_EQUAL(2, get_u32(commit(record, 50).payload));
    board.slots[1][16 + 20] ^= 1;
    CHECK_EQUAL(4, get_u32(ask(RP_SELF_TEST, "\xff\xff\xff\xff", 4).payload + 4));
    boot();
    CHECK_EQUAL(1, get_u32(read(0, 10).payload));
    CHECK_EQUAL(0, get_u32(ask(RP_SELF_TEST, "\xff\xff\xff\xff", 4).payload + 4));
}

static void what_is_not_safe_locked_or_wrong_is_refused(void)
{
    uint8_t record[50];
    memset(board.slots, 0xFF, sizeof board.slots);
    boot();
    fill(record, 50, 3);
    board.store_locked = true;
    uint8_t request[RP_CAL_WRITE_REQUEST_SIZE + 4] = {0};
    CHECK_EQUAL(ERROR_LOCKED, get_u16(ask(RP_CAL_WRITE, request, sizeof request).payload));
    board.store_locked = false;
    put_u16(request, FAKE_STORE - 3);
    CHECK_EQUAL(ERROR_BAD_VALUE, get_u16(ask(RP_CAL_WRITE, request, sizeof request).payload));
    uint8_t last[RP_CAL_COMMIT_REQUEST_SIZE] = {0};
    put_u32(last, RP_CAL_COMMIT_REQUEST_MAGIC_MIN);
    put_u16(last + RP_CAL_COMMIT_REQUEST_LENGTH, 5);
    struct fake_frame refused = ask(RP_CAL_COMMIT, last, sizeof last); /* checksum of other bytes */
    CHECK_EQUAL(RP_CAL_COMMIT_REQUEST_RECORD_CRC, get_u16(refused.payload + 2));
    device.safety.state = STATE_ARMED;
    device.safety.timeout_ms = 2000;
    CHECK_EQUAL(ERROR_BAD_STATE, get_u16(ask(RP_CAL_COMMIT, last, sizeof last).payload));
    CHECK_EQUAL(ERROR_BAD_STATE, get_u16(ask(RP_SELF_TEST, "\1\0\0\0", 4).payload));
}

void store_tests(void)
{
    RUN(a_record_outlives_a_restart);
    RUN(a_loss_of_power_at_any_byte_leaves_the_old_record_or_the_new);
    RUN(a_damaged_record_is_found_and_the_other_slot_taken);
    RUN(what_is_not_safe_locked_or_wrong_is_refused);
}

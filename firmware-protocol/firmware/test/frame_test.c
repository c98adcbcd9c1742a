/* Framing: vectors aside, what holds for any bytes. */
#include <stdlib.h>
#include <string.h>

#include "../core/crc32.h"
#include "../core/frame.h"
#include "check.h"
#include "fake_board.h"

static uint32_t random_state;

static uint32_t random_next(void)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 17;
    random_state ^= random_state << 5;
    return random_state;
}

static const uint8_t identify[] = {1, 0, 1, 0};

static size_t build(uint8_t *raw)
{
    struct frame frame = {FRAME_REQUEST, 0, 1, 1, sizeof identify, identify};
    return frame_build(raw, &frame);
}

/* Frames found in a piece of wire. */
unsigned frames_in(struct frame_receiver *receiver, const uint8_t *wire, size_t length)
{
    struct frame frame;
    unsigned count = 0;
    for (size_t k = 0; k < length; k++)
        count += frame_receive(receiver, wire[k], &frame) == FRAME_COMPLETE;
    return count;
}

static void the_checksum_is_the_one_of_the_page(void)
{
    /* check value of CRC-32/ISO-HDLC, PROTOCOL.md section 3 */
    CHECK_EQUAL(0xCBF43926u, crc32_of("123456789", 9));
    uint8_t raw[FRAME_MAX_RAW];
    size_t length = build(raw);
    CHECK_EQUAL(0x2144DF1Cu, crc32_of(raw, length));
}

static void every_flip_of_one_or_two_bits_is_dropped(void)
{
    static struct frame_receiver receiver;
    uint8_t raw[FRAME_MAX_RAW];
    uint8_t wire[FRAME_MAX_ENCODED + 1];
    size_t length = build(raw);
    size_t on_wire = frame_encode(raw, length, wire);
    unsigned long tried = 0;
    unsigned wrong = 0;
    for (size_t a = 0; a < length * 8; a++) {
        for (size_t b = a; b < length * 8; b++) {
            uint8_t bad[FRAME_MAX_RAW];
            uint8_t out[FRAME_MAX_ENCODED + 1];
            memcpy(bad, raw, length);
            bad[a / 8] ^= (uint8_t)(1 << a % 8);
            if (b != a)
                bad[b / 8] ^= (uint8_t)(1 << b % 8);
            size_t count = frame_encode(bad, length, out);
            frame_receiver_reset(&receiver);
            wrong += frames_in(&receiver, out, count) != 0;
            wrong += frames_in(&receiver, wire, on_wire) != 1;
            tried++;
        }
    }
    for (size_t a = 0; a < on_wire * 8; a++) {
        for (size_t b = a; b < on_wire * 8; b++) {
            uint8_t bad[FRAME_MAX_ENCODED + 1];
            memcpy(bad, wire, on_wire);
            bad[a / 8] ^= (uint8_t)(1 << a % 8);
            if (b != a)
                bad[b / 8] ^= (uint8_t)(1 << b % 8);
            frame_receiver_reset(&receiver);
            wrong += frames_in(&receiver, bad, on_wire) != 0;
            tried++;
        }
    }
    CHECK_EQUAL(0, wrong);
    CHECK(tried > 15000);
}

static void frames_split_anywhere_and_glued_together_come_out_the_same(void)
{
    static struct frame_receiver receiver;
    uint8_t raw[FRAME_MAX_RAW];
    uint8_t wire[4 * (FRAME_MAX_ENCODED + 1)];
    size_t one = frame_encode(raw, build(raw), wire);
    size_t two = one + frame_encode(raw, build(raw), wire + one);
    for (size_t split = 0; split <= two; split++) {
        frame_receiver_reset(&receiver);
        unsigned first = frames_in(&receiver, wire, split);
        CHECK_EQUAL(2, first + frames_in(&receiver, wire + split, two - split));
        /* a half frame and a delimiter lose nothing of what follows */
        frame_receiver_reset(&receiver);
        frames_in(&receiver, wire, split % one);
        frames_in(&receiver, (const uint8_t[]){0}, 1);
        CHECK_EQUAL(2, frames_in(&receiver, wire, two));
    }
}

static void noise_and_a_delimiter_lose_no_frame(void)
{
    static struct frame_receiver receiver;
    random_state = 20261125;
    uint8_t raw[FRAME_MAX_RAW];
    uint8_t wire[FRAME_MAX_ENCODED + 1];
    size_t length = frame_encode(raw, build(raw), wire);
    for (int round = 0; round < 20000; round++) {
        uint8_t noise[300];
        size_t count = random_next() % sizeof noise;
        for (size_t k = 0; k < count; k++)
            noise[k] = (uint8_t)random_next();
        frame_receiver_reset(&receiver);
        CHECK_EQUAL(0, frames_in(&receiver, noise, count));
        frames_in(&receiver, (const uint8_t[]){0}, 1);
        CHECK_EQUAL(1, frames_in(&receiver, wire, length));
    }
}

static void a_mebibyte_without_delimiter_is_one_overlong_block(void)
{
    static struct frame_receiver receiver;
    struct frame frame;
    frame_receiver_reset(&receiver);
    for (long k = 0; k < 1 << 20; k++)
        CHECK(frame_receive(&receiver, (uint8_t)(1 + k % 255), &frame) == FRAME_NOTHING);
    CHECK_EQUAL(FRAME_OVERLONG, frame_receive(&receiver, 0, &frame));
    CHECK_EQUAL(FRAME_NOTHING, frame_receive(&receiver, 0, &frame));
}

static void random_payloads_of_every_length_come_through(void)
{
    static struct frame_receiver receiver;
    random_state = 4711;
    frame_receiver_reset(&receiver);
    for (unsigned length = 0; length <= FRAME_MAX_PAYLOAD; length++) {
        uint8_t payload[FRAME_MAX_PAYLOAD];
        uint8_t raw[FRAME_MAX_RAW];
        uint8_t wire[FRAME_MAX_ENCODED + 1];
        unsigned zeros = random_next() % 5;
        for (unsigned k = 0; k < length; k++)
            payload[k] = (uint8_t)(random_next() % 5 < zeros ? 0 : random_next());
        struct frame sent = {FRAME_DATA, FRAME_OUTPUTS_SAFE, (uint16_t)length, 0x81, (uint16_t)length, payload};
        size_t count = frame_encode(raw, frame_build(raw, &sent), wire);
        CHECK(count <= FRAME_MAX_ENCODED + 1);
        struct frame came = {0};
        enum frame_result result = FRAME_NOTHING;
        for (size_t k = 0; k < count; k++) {
            CHECK((wire[k] == 0) == (k == count - 1));
            result = frame_receive(&receiver, wire[k], &came);
        }
        CHECK_EQUAL(FRAME_COMPLETE, result);
        CHECK_EQUAL(length, came.length);
        CHECK(length == 0 || memcmp(payload, came.payload, length) == 0);
    }
}

void frame_tests(void)
{
    RUN(the_checksum_is_the_one_of_the_page);
    RUN(every_flip_of_one_or_two_bits_is_dropped);
    RUN(frames_split_anywhere_and_glued_together_come_out_the_same);
    RUN(noise_and_a_delimiter_lose_no_frame);
    RUN(a_mebibyte_without_delimiter_is_one_overlong_block);
    RUN(random_payloads_of_every_length_come_through);
}

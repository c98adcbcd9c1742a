/* The golden vectors of the protocol page, read from their files. */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "fake_board.h"

#define MAX_LINE 16384

struct vector {
    char title[256];
    char reason[32];
    unsigned kind, flags, seq, type;
    uint8_t raw[4096], wire[4096], also[4096];
    size_t raw_length, wire_length, also_length;
};

static size_t hex(const char *text, uint8_t *out)
{
    size_t count = 0;
    char *end;
    for (;;) {
        unsigned long value = strtoul(text, &end, 16);
        if (end == text || count == 4096)
            return count;
        out[count++] = (uint8_t)value;
        text = end;
    }
}

/* The next block of a file; false at its end. */
static bool next_vector(FILE *in, struct vector *v)
{
    static char line[MAX_LINE];
    memset(v, 0, sizeof *v);
    bool any = false;
    while (fgets(line, sizeof line, in)) {
        line[strcspn(line, "\n")] = 0;
        if (*line == '#')
            continue;
        if (!*line && any)
            return true;
        if (!strncmp(line, "frame ", 6) || !strncmp(line, "bad ", 4)) {
            snprintf(v->title, sizeof v->title, "%.250s", line);
            any = true;
        } else if (!strncmp(line, "reason ", 7)) {
            snprintf(v->reason, sizeof v->reason, "%.30s", line + 7);
        } else if (!strncmp(line, "header ", 7)) {
            CHECK_EQUAL(4, sscanf(line, "header kind=%u flags=%u seq=%u type=%u", &v->kind, &v->flags, &v->seq, &v->type));
        } else if (!strncmp(line, "raw ", 4)) {
            v->raw_length = hex(line + 4, v->raw);
        } else if (!strncmp(line, "wire ", 5)) {
            v->wire_length = hex(line + 5, v->wire);
        } else if (!strncmp(line, "wire-also ", 10)) {
            v->also_length = hex(line + 10, v->also);
        }
    }
    return any;
}

static FILE *open_vectors(const char *folder, const char *name)
{
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *in = fopen(path, "r");
    if (!in) {
        perror(path);
        exit(2);
    }
    return in;
}

static void check_decoded(const struct vector *v, const uint8_t *wire, size_t length)
{
    static struct frame_receiver receiver;
    struct frame frame = {0};
    enum frame_result result = FRAME_NOTHING;
    frame_receiver_reset(&receiver);
    for (size_t k = 0; k < length; k++) {
        CHECK(result == FRAME_NOTHING);
        result = frame_receive(&receiver, wire[k], &frame);
    }
    CHECK_EQUAL(FRAME_COMPLETE, result);
    CHECK_EQUAL(v->kind, frame.kind);
    CHECK_EQUAL(v->flags, frame.flags);
    CHECK_EQUAL(v->seq, frame.seq);
    CHECK_EQUAL(v->type, frame.type);
    CHECK_EQUAL(v->raw_length - 12, frame.length);
    if (result == FRAME_COMPLETE)
        CHECK(memcmp(frame.payload, v->raw + 8, frame.length) == 0);
}

static void good_file(const char *folder, const char *name, unsigned least)
{
    static struct vector v;
    FILE *in = open_vectors(folder, name);
    unsigned count = 0;
    while (next_vector(in, &v)) {
        uint8_t raw[FRAME_MAX_RAW], wire[FRAME_MAX_ENCODED + 1];
        check_name = v.title;
        check_decoded(&v, v.wire, v.wire_length);
        if (v.also_length > 0)
            check_decoded(&v, v.also, v.also_length);
        struct frame frame = {(uint8_t)v.kind, (uint8_t)v.flags, (uint16_t)v.seq, (uint16_t)v.type,
            (uint16_t)(v.raw_length - 12), v.raw + 8};
        size_t built = frame_build(raw, &frame);
        CHECK(built == v.raw_length && memcmp(raw, v.raw, built) == 0);
        size_t encoded = frame_encode(raw, built, wire);
        CHECK(encoded == v.wire_length && memcmp(wire, v.wire, encoded) == 0);
        count++;
    }
    CHECK(count >= least);
    fclose(in);
}

static void bad_file(const char *folder)
{
    static const char *const reasons[] = {"", "", "OVERLONG", "COBS", "SHORT", "CRC", "LENGTH", "VERSION", "KIND", "FLAGS"};
    static const uint8_t good[] = {0x02, 0x11, 0x02, 0x01, 0x02, 0x01, 0x02, 0x04, 0x02, 0x01, 0x02, 0x01, 0x05, 0x6e,
        0x18, 0x36, 0xf5, 0x00};
    static struct frame_receiver receiver;
    static struct vector v;
    FILE *in = open_vectors(folder, "bad.txt");
    unsigned count = 0;
    unsigned seen = 0;
    while (next_vector(in, &v)) {
        check_name = v.title;
        struct frame frame;
        frame_receiver_reset(&receiver);
        enum frame_result result = FRAME_NOTHING;
        for (size_t k = 0; k < v.wire_length; k++)
            result = frame_receive(&receiver, v.wire[k], &frame);
        CHECK(strcmp(reasons[result], v.reason) == 0);
        for (size_t k = 0; k < sizeof good; k++)
            result = frame_receive(&receiver, good[k], &frame);
        CHECK_EQUAL(FRAME_COMPLETE, result);
        for (unsigned k = 2; k < sizeof reasons / sizeof *reasons; k++)
            seen |= !strcmp(reasons[k], v.reason) ? 1u << k : 0;
        count++;
    }
    CHECK(count >= 20);
    CHECK_EQUAL(0x3FC, seen); /* every reason */
    fclose(in);
}

/* Every request of the vectors, sent to the device, gets one answer with its seq and type, and never BAD_TYPE or BAD_LENGTH. */
static void every_request_is_answered(const char *folder)
{
    static struct vector v;
    static struct fake_frame frames[64];
    FILE *in = open_vectors(folder, "messages.txt");
    unsigned requests = 0;
    fake_start(0, 12345);
    fake_run(20000);
    fake_sent(frames, 64);
    while (next_vector(in, &v)) {
        if (v.kind != FRAME_REQUEST)
            continue;
        check_name = v.title;
        for (size_t k = 0; k < v.wire_length; k++)
            device_received(&device, v.wire[k]);
        fake_run(400000);
        size_t count = fake_sent(frames, 64);
        unsigned answers = 0;
        for (size_t k = 0; k < count; k++) {
            bool answer = frames[k].kind == FRAME_RESPONSE || frames[k].kind == FRAME_ERROR;
            answers += answer && frames[k].seq == v.seq && frames[k].type == v.type;
            CHECK(frames[k].kind != FRAME_ERROR || frames[k].payload[0] > 2);
        }
        CHECK_EQUAL(1, answers);
        requests++;
    }
    CHECK(requests >= 30);
    fclose(in);
}

/* LIMIT_SET, the longest request that switches or limits anything, has so many bytes on the wire. */
#define SHORT_FRAME 30

/* Every flip of one or two bits on the wire, in every request of the vectors that is short: none gets through. */
static void no_flip_of_one_or_two_bits_gets_through(const char *folder)
{
    static struct vector v;
    static struct frame_receiver receiver;
    FILE *in = open_vectors(folder, "messages.txt");
    unsigned requests = 0;
    while (next_vector(in, &v)) {
        if (v.kind != FRAME_REQUEST || v.wire_length > SHORT_FRAME)
            continue;
        check_name = v.title;
        size_t bits = v.wire_length * 8;
        unsigned wrong = 0;
        for (size_t a = 0; a < bits; a++) {
            for (size_t b = a; b < bits; b++) {
                uint8_t bad[SHORT_FRAME + 1] = {0}; /* and a delimiter behind it */
                memcpy(bad, v.wire, v.wire_length);
                bad[a / 8] ^= (uint8_t)(1 << a % 8);
                if (b != a)
                    bad[b / 8] ^= (uint8_t)(1 << b % 8);
                wrong += frames_in(&receiver, bad, v.wire_length + 1);
            }
        }
        CHECK_EQUAL(0, wrong);
        CHECK_EQUAL(1, frames_in(&receiver, v.wire, v.wire_length));
        requests++;
    }
    CHECK(requests >= 20);
    fclose(in);
}

void vector_tests(const char *folder)
{
    no_flip_of_one_or_two_bits_gets_through(folder);
    good_file(folder, "messages.txt", 70);
    good_file(folder, "framing.txt", 4);
    bad_file(folder);
    every_request_is_answered(folder);
}

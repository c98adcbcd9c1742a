/* The conversation of ../vectors/dialogue.txt, answer by answer: what the simulated board of the Java side says, this does. */
#include <stdlib.h>
#include <string.h>

#include "../core/bytes.h"
#include "../core/messages.h"
#include "check.h"
#include "fake_board.h"

#define MAX_LINE 8192
#define MAX_ANSWERS 4096

static uint16_t seq;
static uint16_t asked_seq;
static uint16_t asked_type;
static uint32_t token = 1;
static uint16_t inputs = 0xFFFF;
static struct fake_frame frames[MAX_ANSWERS]; /* since the last request */
static size_t count;

static void ask(const char *text)
{
    uint8_t payload[FRAME_MAX_PAYLOAD];
    uint16_t length = 0;
    char *hex;
    asked_type = (uint16_t)strtoul(text, &hex, 16);
    asked_seq = seq++ & 0x7FFF;
    while (*hex == ' ')
        hex++;
    while (*hex && *hex != 't') {
        char digits[3] = {hex[0], hex[1], 0};
        payload[length++] = (uint8_t)strtoul(digits, NULL, 16);
        hex += 2;
    }
    if (*hex == 't') {
        put_u32(payload + length, token);
        length = (uint16_t)(length + 4);
    }
    count = 0;
    fake_request(0, asked_seq, asked_type, payload, length);
}

static void run(uint64_t us)
{
    device_poll(&device);
    fake_run(us);
    count += fake_sent(frames + count, MAX_ANSWERS - count);
    if (board.resets > 0) { /* as if power had returned, at the end of the time that passes */
        fake_start(board.time_us, 4711);
        device.reset_cause = RESET_COMMAND;
    }
    board.inputs = inputs;
}

static bool same(const char *wanted, const struct fake_frame *frame)
{
    char seen[3];
    if (strlen(wanted) != 2u * frame->length)
        return false;
    for (size_t k = 0; k < frame->length; k++) {
        snprintf(seen, sizeof seen, "%02x", frame->payload[k]);
        if (wanted[2 * k] != '.' && memcmp(seen, wanted + 2 * k, 2) != 0)
            return false;
    }
    return true;
}

static void answer(const char *text)
{
    const struct fake_frame *found = NULL;
    for (size_t k = 0; k < count && !found; k++) {
        bool reply = frames[k].kind == FRAME_RESPONSE || frames[k].kind == FRAME_ERROR;
        if (reply && frames[k].seq == asked_seq && frames[k].type == asked_type)
            found = &frames[k];
    }
    if (!strcmp(text, "none")) {
        CHECK(found == NULL);
        return;
    }
    CHECK(found != NULL);
    if (!found)
        return;
    char *rest;
    unsigned kind = (unsigned)strtoul(text, &rest, 10);
    unsigned flags = (unsigned)strtoul(rest, &rest, 16);
    while (*rest == ' ')
        rest++;
    CHECK_EQUAL(kind, found->kind);
    CHECK_EQUAL(flags, found->flags);
    if (!same(rest, found)) {
        printf("%s: wanted %s, got ", check_name, rest);
        for (size_t k = 0; k < found->length; k++)
            printf("%02x", found->payload[k]);
        printf("\n");
        checks_failed++;
    }
    if (asked_type == RP_ARM && found->kind == FRAME_RESPONSE)
        token = get_u32(found->payload);
}

void dialogue_tests(const char *folder)
{
    static char path[1024];
    static char line[MAX_LINE];
    static char name[MAX_LINE];
    unsigned answers = 0;
    unsigned number = 0;
    snprintf(path, sizeof path, "%s/dialogue.txt", folder);
    FILE *in = fopen(path, "r");
    if (!in) {
        perror(path);
        exit(2);
    }
    memset(board.slots, 0xFF, sizeof board.slots);
    fake_start(0, 99);
    while (checks_failed == 0 && fgets(line, sizeof line, in)) { /* once out of step, all that follows is */
        line[strcspn(line, "\n")] = 0;
        snprintf(name, sizeof name, "dialogue.txt:%u", ++number);
        check_name = name;
        if (!strncmp(line, "run ", 4)) {
            run(strtoull(line + 4, NULL, 10));
        } else if (!strncmp(line, "inputs ", 7)) {
            inputs = (uint16_t)strtoul(line + 7, NULL, 16);
            board.inputs = inputs;
        } else if (!strncmp(line, "ask ", 4)) {
            ask(line + 4);
        } else if (!strncmp(line, "answer ", 7)) {
            answer(line + 7);
            answers++;
        } else {
            CHECK(line[0] == '#');
        }
    }
    CHECK(answers > 1000);
    fclose(in);
}

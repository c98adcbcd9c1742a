/* Every request of ../states.csv in every state: what the table says is what the device answers. */
#include <stdlib.h>
#include <string.h>

#include "../core/bytes.h"
#include "../core/commands.h"
#include "../core/messages.h"
#include "check.h"
#include "fake_board.h"

#define COLUMNS 8

static uint16_t seq;

static struct fake_frame ask(uint16_t type, const void *payload, uint16_t length)
{
    return fake_ask(0, seq++, type, payload, length);
}

static const char *const error_names[] = {
    "ok", "BAD_TYPE", "BAD_LENGTH", "BAD_VALUE", "BAD_STATE", "BUSY", "NOT_ARMED", "FAULT_LATCHED", "LOCKED", "NO_DATA",
    "VERSION", "HARDWARE", "INTERLOCK",
};

static uint32_t enter_armed(void)
{
    uint8_t request[RP_ARM_REQUEST_SIZE] = {0};
    put_u32(request, RP_ARM_REQUEST_MAGIC_MIN);
    put_u16(request + RP_ARM_REQUEST_TIMEOUT_MS, 2000);
    return get_u32(ask(RP_ARM, request, sizeof request).payload);
}

static uint32_t enter(enum state state)
{
    memset(board.slots, 0xFF, sizeof board.slots);
    fake_start(0, 77);
    uint32_t token = 1;
    if (state != STATE_BOOT)
        fake_run(20000);
    if (state == STATE_ARMED || state == STATE_ACTIVE)
        token = enter_armed();
    if (state == STATE_ACTIVE) {
        uint8_t request[RP_LOAD_ENABLE_SET_REQUEST_SIZE] = {1};
        put_u32(request + RP_LOAD_ENABLE_SET_REQUEST_ARM_TOKEN, token);
        ask(RP_LOAD_ENABLE_SET, request, sizeof request);
    }
    if (state == STATE_TRIPPED) {
        enter_armed();
        board.inputs = 0xFFFE;
        fake_run(1000);
        board.inputs = 0xFFFF;
    }
    CHECK_EQUAL(state, device.safety.state);
    return token;
}

static uint16_t payload(const char *hex, uint32_t token, uint8_t *out)
{
    uint16_t length = 0;
    while (*hex && strcmp(hex, "token") != 0) {
        char digits[3] = {hex[0], hex[1], 0};
        out[length++] = (uint8_t)strtoul(digits, NULL, 16);
        hex += 2;
    }
    if (*hex) {
        put_u32(out + length, token);
        length = (uint16_t)(length + 4);
    }
    return length;
}

/* The code that a cell names, and in *detail the detail that goes with it. */
static unsigned expected(const char *cell, enum state state, unsigned *detail)
{
    char name[32];
    snprintf(name, sizeof name, "%.*s", (int)strcspn(cell, "@"), cell);
    const char *at = strchr(cell, '@');
    *detail = at ? (unsigned)strtoul(at + 1, NULL, 10) : 0;
    for (unsigned code = 0; code < sizeof error_names / sizeof *error_names; code++) {
        if (strcmp(name, error_names[code]) != 0)
            continue;
        if (code == ERROR_BAD_STATE)
            *detail = state;
        else if (code == ERROR_FAULT_LATCHED)
            *detail = FAULT_INTERLOCK_OPEN;
        return code;
    }
    printf("%s: no such answer: %s\n", check_name, cell);
    checks_failed++;
    return 0;
}

static void cell(uint16_t type, const char *request, enum state state, const char *wanted)
{
    uint8_t bytes[64];
    uint16_t length = payload(request, enter(state), bytes);
    uint16_t own = seq;
    struct fake_frame answer = ask(type, bytes, length);
    if (answer.kind == 0) { /* comes when its samples are taken */
        static struct fake_frame frames[16];
        fake_run(5000);
        size_t count = fake_sent(frames, 16);
        for (size_t k = 0; k < count; k++)
            if (frames[k].seq == own && frames[k].type == type)
                answer = frames[k];
    }
    unsigned detail;
    unsigned code = expected(wanted, state, &detail);
    CHECK_EQUAL(code == 0 ? FRAME_RESPONSE : FRAME_ERROR, answer.kind);
    if (answer.kind == FRAME_ERROR) {
        CHECK_EQUAL(code, get_u16(answer.payload));
        CHECK_EQUAL(detail, get_u16(answer.payload + 2));
    }
}

void state_tests(const char *folder)
{
    char path[1024];
    char line[512];
    unsigned rows = 0;
    snprintf(path, sizeof path, "%s/../states.csv", folder);
    FILE *in = fopen(path, "r");
    if (!in) {
        perror(path);
        exit(2);
    }
    bool header = fgets(line, sizeof line, in) != NULL;
    CHECK(header);
    while (fgets(line, sizeof line, in)) {
        line[strcspn(line, "\n")] = 0;
        static char name[512];
        snprintf(name, sizeof name, "%s", line);
        check_name = name;
        char *column[COLUMNS + 1] = {line};
        for (unsigned k = 1; k <= COLUMNS && column[k - 1]; k++) {
            char *comma = strchr(column[k - 1], ',');
            if (comma)
                *comma++ = 0;
            column[k] = comma;
        }
        CHECK(column[COLUMNS] != NULL);
        if (!column[COLUMNS])
            continue;
        uint16_t type = (uint16_t)strtoul(column[0], NULL, 16);
        for (unsigned state = STATE_BOOT; state <= STATE_TRIPPED; state++)
            cell(type, column[2], (enum state)state, column[3 + state]);
        rows++;
    }
    CHECK(rows > 60);
    fclose(in);
}

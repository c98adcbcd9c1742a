/*
 * Makes the C header of the protocol from the message table, and checks the table against the rows of a released version.
 *
 *   mkheader messages.csv released.txt > messages.h
 *
 * Offsets are computed here and compared with those of the table. A row of released.txt that is no longer in the table as it
 * was (renumbered, retyped, moved, removed) ends the program with status 1, and so the build.
 */
#include <ctype.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MAX_ROWS 1000
#define COLUMNS 13
#define MAX_LINE 1024

enum column { ID, NAME, DIRECTION, OFFSET, FIELD, TYPE, REPEAT, UNIT, MIN, MAX, RESET, SINCE, NOTE };

struct row {
    char text[MAX_LINE];
    const char *cell[COLUMNS];
};

static struct row rows[MAX_ROWS];
static size_t row_count;
static int problems;

static void problem(const char *what, const char *where)
{
    fprintf(stderr, "mkheader: %s: %s\n", what, where);
    problems++;
}

/* Splits a line of comma-separated values (RFC 4180, without line breaks in values) in place. */
static size_t split(char *text, const char **cell, size_t max)
{
    size_t n = 0;
    char *from = text;
    while (n < max) {
        char *to = from;
        int quoted = *from == '"';
        cell[n++] = to;
        from += quoted;
        while (*from && (quoted || *from != ',')) {
            if (quoted && *from == '"') {
                if (from[1] != '"') {
                    quoted = 0;
                    from++;
                    continue;
                }
                from++;
            }
            *to++ = *from++;
        }
        int more = *from == ',';
        from++;
        *to = 0;
        if (!more)
            break;
    }
    return n;
}

static void read_table(const char *path)
{
    FILE *in = fopen(path, "r");
    if (!in) {
        perror(path);
        exit(2);
    }
    char line[MAX_LINE];
    for (int number = 0; fgets(line, sizeof line, in); number++) {
        if (number == 0)
            continue;
        line[strcspn(line, "\r\n")] = 0;
        if (row_count == MAX_ROWS) {
            problem("too many rows", path);
            break;
        }
        struct row *r = &rows[row_count++];
        strcpy(r->text, line);
        if (split(r->text, r->cell, COLUMNS) != COLUMNS)
            problem("a row without 13 columns", line);
    }
    fclose(in);
}

static unsigned size_of(const char *type)
{
    static const struct {
        const char *name;
        unsigned size;
    } known[] = {{"u8", 1}, {"u16", 2}, {"u32", 4}, {"u64", 8}, {"i16", 2}, {"i32", 4}, {"i64", 8}, {"bytes", 0}};
    for (size_t k = 0; k < sizeof known / sizeof *known; k++)
        if (!strcmp(type, known[k].name))
            return known[k].size;
    unsigned length = 0;
    if (sscanf(type, "char[%u]", &length) == 1)
        return length;
    problem("unknown type", type);
    return 0;
}

static uint32_t crc_update(uint32_t crc, const char *text)
{
    for (; *text; text++) {
        crc ^= (unsigned char)*text;
        for (int bit = 0; bit < 8; bit++)
            crc = crc & 1 ? crc >> 1 ^ 0xEDB88320u : crc >> 1;
    }
    return crc;
}

static void write_upper(const char *text)
{
    for (; *text; text++)
        putchar(isalnum((unsigned char)*text) ? toupper((unsigned char)*text) : '_');
}

static void define(const struct row *r, const char *tail, const char *value)
{
    printf("#define RP_");
    write_upper(r->cell[NAME]);
    putchar('_');
    write_upper(r->cell[DIRECTION]);
    printf("%s%s", *tail ? "_" : "", "");
    write_upper(tail);
    printf(" %s\n", value);
}

static int starts_payload(size_t k)
{
    return k == 0 || strcmp(rows[k].cell[ID], rows[k - 1].cell[ID])
            || strcmp(rows[k].cell[DIRECTION], rows[k - 1].cell[DIRECTION]);
}

static int is_signed(const char *type)
{
    return type[0] == 'i';
}

static void define_bound(const struct row *r, const char *which, const char *value)
{
    char tail[80];
    char text[80];
    snprintf(tail, sizeof tail, "%s_%s", r->cell[FIELD], which);
    const char *form = is_signed(r->cell[TYPE]) ? "(%s)" : !strcmp(r->cell[TYPE], "u64") ? "%sull" : "%su";
    if (!strcmp(value, "-2147483648"))
        value = "-2147483647 - 1";
    snprintf(text, sizeof text, form, value);
    define(r, tail, text);
}

static void write_payload(size_t from, size_t to)
{
    unsigned fixed = 0;
    unsigned group = 0;
    char text[200];
    for (size_t k = from; k < to; k++) {
        const struct row *r = &rows[k];
        if (!*r->cell[FIELD])
            continue;
        int once = !strcmp(r->cell[REPEAT], "once") || !strcmp(r->cell[REPEAT], "rest");
        unsigned at = once ? fixed : fixed + group;
        if (strtoul(r->cell[OFFSET], 0, 10) != at) {
            snprintf(text, sizeof text, "%.20s %.20s: byte %s, but the fields before end at %u", r->cell[NAME],
                    r->cell[FIELD], r->cell[OFFSET], at);
            problem("wrong offset", text);
        }
        if (once && group)
            problem("a field after a repeated one", r->cell[FIELD]);
        *(once ? &fixed : &group) += size_of(r->cell[TYPE]);
        if (!strncmp(r->cell[FIELD], "reserved", 8))
            continue;
        snprintf(text, sizeof text, "%uu", at);
        define(r, r->cell[FIELD], text);
        if (*r->cell[MIN]) {
            define_bound(r, "min", r->cell[MIN]);
            define_bound(r, "max", r->cell[MAX]);
        }
    }
    snprintf(text, sizeof text, "%uu", fixed);
    define(&rows[from], "size", text);
    if (group) {
        snprintf(text, sizeof text, "%uu", group);
        define(&rows[from], "group", text);
    }
}

static void frozen_line(const struct row *r, char *out, size_t size)
{
    snprintf(out, size, "%s %s %s %s %s %s %s", r->cell[ID], r->cell[NAME], r->cell[DIRECTION], r->cell[OFFSET],
            r->cell[FIELD], r->cell[TYPE], r->cell[REPEAT]);
}

static void check_released(const char *path)
{
    FILE *in = fopen(path, "r");
    if (!in) {
        perror(path);
        exit(2);
    }
    char line[MAX_LINE];
    char now[MAX_LINE];
    while (fgets(line, sizeof line, in)) {
        line[strcspn(line, "\r\n")] = 0;
        int found = *line == '#' || !*line;
        for (size_t k = 0; k < row_count && !found; k++) {
            frozen_line(&rows[k], now, sizeof now);
            found = !strcmp(line, now);
        }
        if (!found)
            problem("a released field was renumbered, moved, retyped or removed", line);
    }
    fclose(in);
}

int main(int argc, char **argv)
{
    if (argc != 3) {
        fprintf(stderr, "usage: mkheader messages.csv released.txt\n");
        return 2;
    }
    read_table(argv[1]);
    check_released(argv[2]);
    uint32_t crc = 0xFFFFFFFFu;
    printf("/* Made by tools/mkheader from messages.csv; not to be edited. Offsets in bytes of the payload, ranges inclusive. */\n"
           "#ifndef RP_MESSAGES_H\n#define RP_MESSAGES_H\n");
    for (size_t k = 0; k < row_count; k++) {
        const struct row *r = &rows[k];
        char line[MAX_LINE];
        snprintf(line, sizeof line, "%s,%s,%s,%s,%s,%s\n", r->cell[ID] + 2, r->cell[NAME], r->cell[DIRECTION],
                r->cell[FIELD], r->cell[TYPE], r->cell[REPEAT]);
        crc = crc_update(crc, line);
        if (!starts_payload(k))
            continue;
        if (k == 0 || strcmp(r->cell[ID], rows[k - 1].cell[ID])) {
            printf("\n#define RP_%s %su\n", r->cell[NAME], r->cell[ID]);
        }
        size_t end = k + 1;
        while (end < row_count && !starts_payload(end))
            end++;
        write_payload(k, end);
    }
    printf("\n/* Checksum of the message table, as PROTOCOL.md defines it. */\n#define RP_TABLE_CRC 0x%08Xu\n\n#endif\n",
            (unsigned)(crc ^ 0xFFFFFFFFu));
    return problems ? 1 : 0;
}

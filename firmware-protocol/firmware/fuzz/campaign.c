/*
 * A given number of frames through the whole device:
 *
 *   campaign frames seed corpus-folder
 *
 * First every kept input, then inputs made of many operations each: frames whole, frames with flipped bits, cut, glued
 * together; requests with arbitrary payloads; apt requests; signals and time between them. The same seed gives the same
 * frames. Ends with status 1 if an input takes longer than INPUT_SECONDS or the memory in use passes LIMIT_KIB; whatever
 * fuzz.c or a sanitizer finds ends it too. Prints what was done.
 */
#include <dirent.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <unistd.h>

#include "../core/frame.h"
#include "fuzz.h"

#define INPUT_SIZE 65536u
#define INPUT_SECONDS 20
#define LIMIT_KIB (256 * 1024)

static uint64_t state;
static uint8_t input[INPUT_SIZE];

/* xorshift64*, Vigna, ACM Transactions on Mathematical Software 42(4), 2016 */
static uint32_t chance(uint32_t below)
{
    state ^= state >> 12;
    state ^= state << 25;
    state ^= state >> 27;
    return (uint32_t)((state * 2685821657736338717ull) >> 32) % below;
}

static uint8_t byte(void)
{
    return (uint8_t)chance(256);
}

/* A raw block of one frame, more often damaged than not; operation 0 of fuzz.c. */
static size_t put_frame(uint8_t *out)
{
    static const uint8_t kinds[] = {FRAME_REQUEST, FRAME_REQUEST, FRAME_REQUEST, FRAME_RESPONSE, FRAME_EVENT, 9};
    uint8_t payload[128];
    uint8_t raw[FRAME_MAX_RAW];
    uint8_t wire[FRAME_MAX_ENCODED + 1];
    uint16_t length = (uint16_t)chance(40);
    for (uint16_t k = 0; k < length; k++)
        payload[k] = chance(3) ? byte() : 0;
    struct frame frame = {kinds[chance(sizeof kinds)], (uint8_t)(chance(8) ? 0 : byte()), (uint16_t)chance(65536),
        (uint16_t)(chance(4) ? chance(0x52) : chance(65536)), length, payload};
    size_t built = frame_build(raw, &frame);
    if (chance(4) == 0)
        raw[chance((uint32_t)built)] ^= (uint8_t)(1u << chance(8)); /* before the encoding: the checksum is wrong */
    size_t count = frame_encode(raw, built, wire);
    if (chance(4) == 0)
        wire[chance((uint32_t)count)] ^= (uint8_t)(1u << chance(8));
    if (chance(16) == 0)
        count = 1 + chance((uint32_t)count); /* cut: what follows is glued to it */
    out[0] = 0;
    out[1] = (uint8_t)count;
    for (size_t k = 0; k < count; k++)
        out[2 + k] = wire[k];
    return 2 + count;
}

static size_t make_input(void)
{
    size_t at = 0;
    for (unsigned k = 0; k < 3; k++)
        input[at++] = byte();
    while (at + 512 < INPUT_SIZE) {
        uint32_t what = chance(100);
        if (what < 60) {
            at += put_frame(input + at);
        } else if (what < 72) {
            input[at++] = 1;
            input[at++] = byte();
            uint8_t length = (uint8_t)chance(32);
            input[at++] = length;
            for (unsigned k = 0; k < length; k++)
                input[at++] = byte();
        } else {
            /* apt requests, signals, reading what was sent; time now and then, a few ticks of it */
            input[at++] = (uint8_t)(what < 90 ? 2 : what < 93 ? 4 : what < 98 ? 5 : 6 + 7 * chance(8));
        }
    }
    return at;
}

static void run(size_t size)
{
    alarm(INPUT_SECONDS); /* unhandled, it ends the process */
    LLVMFuzzerTestOneInput(input, size);
    alarm(0);
}

static unsigned run_corpus(const char *path)
{
    unsigned files = 0;
    DIR *folder = opendir(path);
    struct dirent *entry;
    while (folder != NULL && (entry = readdir(folder)) != NULL) {
        char name[512];
        snprintf(name, sizeof name, "%s/%s", path, entry->d_name);
        FILE *file = entry->d_name[0] == '.' ? NULL : fopen(name, "rb");
        if (file == NULL)
            continue;
        size_t size = fread(input, 1, sizeof input, file);
        fclose(file);
        run(size);
        files++;
    }
    if (folder != NULL)
        closedir(folder);
    return files;
}

int main(int argc, char **argv)
{
    if (argc != 4) {
        fprintf(stderr, "usage: campaign frames seed corpus-folder\n");
        return 2;
    }
    uint64_t wanted = strtoull(argv[1], NULL, 10);
    state = strtoull(argv[2], NULL, 10) * 2 + 1;
    unsigned files = run_corpus(argv[3]);
    if (files == 0) {
        fprintf(stderr, "no corpus in %s\n", argv[3]);
        return 2;
    }
    uint64_t inputs = 0;
    while (fuzz_frames < wanted) {
        run(make_input());
        inputs++;
    }
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("campaign: %" PRIu64 " frames in %u kept and %" PRIu64 " new inputs from seed %s, at most %ld KiB in use\n",
            fuzz_frames, files, inputs, argv[2], usage.ru_maxrss);
    return usage.ru_maxrss > LIMIT_KIB;
}

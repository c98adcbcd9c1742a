/*
 * The bench window: memory that the board shares with the program that stands for what lies at its terminals. Through it that
 * program is the converter: it sees the device's time, hears of the outputs, and puts scans into a queue once their instants
 * have passed. See README.md "Bench window"; offsets are in bytes, all words are u32, little-endian.
 */
#ifndef RP_WINDOW_H
#define RP_WINDOW_H

#include <stdbool.h>
#include <stdint.h>

#include "../core/port.h"

#define WINDOW_MAGIC 0x31575052u
#define WINDOW_OUTPUTS 256u  /* changes of the outputs that are kept */
#define WINDOW_SCANS 16384u  /* scans that the queue holds */

struct window_output {
    uint32_t ticks_low;
    uint32_t ticks_high;
    uint32_t contacts;
    uint32_t load;
};

/* Written by the board unless said otherwise. A word that tells of others is written after them. */
struct window {
    uint32_t magic;      /* 0x00 bench: WINDOW_MAGIC, the window is in use */
    uint32_t starts;     /* 0x04 how often the board has started */
    uint32_t time_high;  /* 0x08 device time, u64, in every tick interrupt: high word, low word, high word again */
    uint32_t time_low;   /* 0x0C */
    uint32_t time_again; /* 0x10 */
    uint32_t outputs;    /* 0x14 changes of the outputs since the start, the first at tick 0: all off */
    uint32_t job;        /* 0x18 odd while scans are wanted; another number for each job */
    uint32_t period;     /* 0x1C ticks between two scans */
    uint32_t mask;       /* 0x20 channels */
    uint32_t start_low;  /* 0x24 instant of the first scan */
    uint32_t start_high; /* 0x28 */
    uint32_t taken;      /* 0x2C scans of the job that the board has taken out of the queue */
    uint32_t given_job;  /* 0x30 bench: the job that the next word is about */
    uint32_t given;      /* 0x34 bench: scans of it that were put into the queue */
    uint32_t granted;    /* 0x38 bench: device time, low word, which the clock may reach, if the next word is not 0 */
    uint32_t paced;      /* 0x3C bench */
    int16_t level[PORT_MAX_CHANNELS]; /* 0x40 bench: what lies at the inputs now, for the limits */
    uint32_t unused[32];
    struct window_output output[WINDOW_OUTPUTS];       /* 0x100 change k at place k modulo their number */
    uint32_t gap[(0x10000 - 0x1100) / 4];
    int16_t scan[WINDOW_SCANS][PORT_MAX_CHANNELS];     /* 0x10000 bench: scan k at place k modulo their number */
};

/* All take volatile memory that may be NULL: then there is no window. */
typedef volatile struct window bench_window;

/* Whether the bench has put the window into use. */
bool window_used(const bench_window *window);

/* Whether the bench grants the board its time. */
bool window_paced(const bench_window *window);

/* How much of a step from an instant of the device's time the bench grants; all of it if it does not pace. */
uint32_t window_grants(const bench_window *window, uint32_t now, uint32_t step);

void window_start(bench_window *window);
void window_time(bench_window *window, uint64_t now);
void window_output(bench_window *window, uint64_t at, uint32_t contacts, bool load);
void window_scan_start(bench_window *window, uint64_t start, uint32_t period, uint32_t mask);
void window_scan_stop(bench_window *window);
enum port_scan_result window_scan(bench_window *window, uint64_t at, int16_t codes[PORT_MAX_CHANNELS]);
void window_look(const bench_window *window, int16_t codes[PORT_MAX_CHANNELS]);

#endif

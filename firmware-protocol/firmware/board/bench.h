/*
 * The other end of the terminals, for boards that have none: a second line on which a test bench sets what lies at the inputs
 * and hears what the outputs do. Frames as on the main line, types of the experimental range; see README.md "Bench line".
 */
#ifndef RP_BENCH_H
#define RP_BENCH_H

#include "../core/device.h"
#include "../core/port.h"
#include "window.h"

#define BENCH_RX_SIZE 4096u
#define BENCH_TX_SIZE 8192u

enum bench_type {
    /* to the board */
    BENCH_LEVELS = 0x7F01, /* u32 mask, i16 code for each channel of it, ascending */
    BENCH_SOURCE = 0x7F02, /* u8: 0 levels and waves, 1 every scan is asked for */
    BENCH_SCANS = 0x7F03,  /* u64 first, u16 count, u16 channels, i16 codes, scan by scan, channels of the job ascending */
    BENCH_INPUTS = 0x7F04, /* u16 closed inputs */
    BENCH_STUCK = 0x7F05,  /* u32 mask, u32 value: contacts that stay as given */
    BENCH_WAVE = 0x7F06,   /* u8 channel, u8 reserved, u16 points, u32 period in ticks, i16 points: added to the level */
    BENCH_HANG = 0x7F07,   /* the main loop stops */
    BENCH_FAULTS = 0x7F08, /* u32 faults whose cause is there */
    BENCH_ASK = 0x7F09,    /* report the outputs now */
    BENCH_GRANT = 0x7F0A,  /* u32 ticks: so far the clock may run from now on, until the next one; process only */
    /* from the board */
    BENCH_OUTPUTS = 0x7F10, /* u64 ticks, u32 contacts, u8 load enable, u8 source, u16 state: at each change */
    BENCH_NEED = 0x7F11     /* u64 first, u32 period, u32 mask, u16 count: wants these scans */
};

#define BENCH_WAVE_POINTS 256

struct bench {
    uint8_t rx[BENCH_RX_SIZE];
    uint8_t tx[BENCH_TX_SIZE];
    volatile uint32_t rx_in;
    volatile uint32_t rx_out;
    uint32_t tx_in;
    uint32_t tx_out;
    struct frame_receiver receiver;
    uint8_t raw[FRAME_MAX_RAW];
    uint8_t wire[FRAME_MAX_ENCODED + 1];
    struct device *device;
    uint16_t seq;
    /* inputs */
    int16_t level[PORT_MAX_CHANNELS];
    int16_t wave[BENCH_WAVE_POINTS];
    uint8_t wave_channel;
    uint16_t wave_points;
    uint32_t wave_period;
    bool pull;
    bool hang;
    uint32_t grants;  /* how many came */
    uint32_t granted; /* by the last */
    uint16_t inputs;
    uint32_t faults;
    /* outputs */
    bool load;
    bool reported_load;
    bool report_due;
    uint32_t coils;
    uint32_t contacts;
    uint32_t stuck_mask;
    uint32_t stuck_value;
    uint32_t reported_contacts;
    uint64_t moved_at;   /* when the coils last changed */
    uint64_t changed_at; /* when an output last changed */
    bench_window *window; /* NULL if the board has none */
    uint32_t noted_contacts; /* what the window was told last */
    bool noted_load;
    /* scans asked for */
    uint64_t next_need;   /* instant of the next scan to be asked for */
    uint32_t scan_period;
    uint32_t scan_mask;
    uint8_t scan_channels;
    bool scanning;
    uint16_t wanted;      /* of the last NEED, not come yet */
    uint64_t asked_at;
    uint64_t have_first;
    uint16_t have_count;
    int16_t have[FRAME_MAX_PAYLOAD / 2];
};

/* The window may be NULL. */
void bench_init(struct bench *bench, struct device *device, bench_window *window);

/* From the timer interrupt, after device_tick: tells the window the time. */
void bench_tick(struct bench *bench);

/* From the second line's receive interrupt. */
void bench_received(struct bench *bench, uint8_t byte);

/* From the main loop. */
void bench_poll(struct bench *bench);
size_t bench_transmit(struct bench *bench, uint8_t *out, size_t max);
bool bench_sending(const struct bench *bench);
bool bench_idle(const struct bench *bench);

/* For the port functions of the board. */
void bench_load(struct bench *bench, bool on);
void bench_relays(struct bench *bench, uint32_t energised);
uint32_t bench_contacts(struct bench *bench);
void bench_scan_start(struct bench *bench, uint64_t start, uint32_t period, uint32_t mask);
void bench_scan_stop(struct bench *bench);
enum port_scan_result bench_scan(struct bench *bench, uint64_t at, int16_t codes[PORT_MAX_CHANNELS]);
void bench_look(struct bench *bench, int16_t codes[PORT_MAX_CHANNELS]);

#endif

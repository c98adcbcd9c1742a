/*
 * Averages, block captures, streams: takes scans from the converter's queue in the timer interrupt and never waits for any.
 * All functions: with the lock held, unless said otherwise.
 */
#ifndef RP_SAMPLER_H
#define RP_SAMPLER_H

#include <stdbool.h>
#include <stdint.h>

#include "port.h"
#include "settings.h"

enum job { JOB_NONE, JOB_AVERAGE, JOB_CAPTURE, JOB_STREAM };

enum average_end { AVERAGE_RUNNING, AVERAGE_DONE, AVERAGE_FAILED };

enum capture_state { CAPTURE_IDLE, CAPTURE_WAIT_TRIGGER, CAPTURE_FILLING, CAPTURE_DONE, CAPTURE_ABORTED, CAPTURE_OVERRUN };

enum trigger { TRIGGER_IMMEDIATE, TRIGGER_HOST, TRIGGER_LEVEL_RISE, TRIGGER_LEVEL_FALL, TRIGGER_LOAD_EDGE, TRIGGER_FAULT };

struct average {
    uint32_t samples;
    enum average_end end;
    int16_t first[PORT_MAX_CHANNELS];
    int16_t lowest[PORT_MAX_CHANNELS];
    int16_t highest[PORT_MAX_CHANNELS];
    int64_t sum[PORT_MAX_CHANNELS];
    uint64_t squares[PORT_MAX_CHANNELS];
};

struct capture_plan {
    uint32_t mask;
    uint32_t period;
    uint32_t scans;
    uint32_t pre_scans;
    uint32_t timeout_ms;
    int16_t level;
    uint8_t trigger;
    uint8_t trigger_channel;
};

struct capture {
    struct capture_plan plan;
    enum capture_state state;
    uint16_t id;
    uint8_t channels;
    bool trigger_pending;
    bool triggered;
    bool filled;         /* all scans taken; the checksum is being made */
    int16_t last_level;
    uint64_t start;
    uint64_t trigger_ticks;
    uint64_t trigger_at; /* number of the trigger scan, from the start */
    uint64_t taken;
    uint32_t crc_scan;   /* next scan to go into the checksum */
    uint32_t crc;
    uint32_t dropped;
};

struct stream {
    uint16_t id;
    uint8_t channels;
    bool full;
    uint16_t credits;
    uint32_t mask;
    uint32_t capacity; /* scans */
    uint32_t base;     /* number of the oldest scan held */
    uint32_t held;
    uint32_t read_at;  /* place of the oldest in the buffer */
    uint32_t dropped;
    uint64_t oldest_at;
};

struct sampler {
    const struct settings *settings;
    enum job job;
    uint32_t mask;
    uint32_t period;
    uint64_t start;
    uint64_t taken;
    uint8_t channel[PORT_MAX_CHANNELS]; /* of the mask, ascending */
    uint8_t channels;
    uint16_t last_id;
    struct average average;
    struct capture capture;
    struct stream stream;
};

void sampler_init(struct sampler *sampler, const struct settings *settings);

bool sampler_busy(const struct sampler *sampler);

/* Takes what is due, a bounded number at a time. */
void sampler_tick(struct sampler *sampler, uint64_t now);

void sampler_average(struct sampler *sampler, uint32_t mask, uint32_t samples, uint32_t period, uint64_t start);

/* Prepares a capture; its id. */
uint16_t sampler_configure(struct sampler *sampler, const struct capture_plan *plan);

void sampler_capture_start(struct sampler *sampler, uint64_t start);
void sampler_capture_abort(struct sampler *sampler);

/* A trigger of this kind fell at an instant; TRIGGER_HOST goes for any plan. */
void sampler_trigger(struct sampler *sampler, enum trigger trigger, uint64_t at);

/* Makes a piece of the checksum of a filled block, without lock; true when the block has just become DONE. */
bool sampler_finish(struct sampler *sampler);

/* Number of the block's first scan, from the start. */
uint64_t capture_first(const struct capture *capture);

/* Writes scans of a finished block, as they go over the wire. */
void capture_bytes(const struct sampler *sampler, uint32_t scan, uint32_t count, uint8_t *out);

/* Starts a stream; its id. */
uint16_t sampler_stream(struct sampler *sampler, uint32_t mask, uint32_t period, uint16_t credits, uint64_t start);

/* Moves up to max of the oldest scans out; their number, and that of the first in *first. Without lock, by one reader. */
uint32_t stream_take(struct sampler *sampler, uint32_t max, uint32_t *first, uint8_t *out);

void sampler_stop(struct sampler *sampler);

#endif

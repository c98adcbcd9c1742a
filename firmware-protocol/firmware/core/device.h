/*
 * The whole board but for its hardware. One interrupt calls device_tick every limit_period_us, the receive interrupt calls
 * device_received, the main loop calls device_poll and sends what device_transmit gives. Nothing waits, nothing is allocated.
 */
#ifndef RP_DEVICE_H
#define RP_DEVICE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "limits.h"
#include "link.h"
#include "replies.h"
#include "safety.h"
#include "sampler.h"
#include "settings.h"
#include "store.h"

#define DEVICE_EVENTS 32u

enum reset_cause { RESET_POWER_ON, RESET_COMMAND, RESET_WATCHDOG, RESET_BROWN_OUT, RESET_PIN, RESET_UNKNOWN };

struct device_event {
    uint8_t event;
    uint8_t state;
    uint32_t detail;
    uint64_t ticks;
};

/* A CAPTURE_READ under way. */
struct block_read {
    bool active;
    struct request_key key;
    uint16_t fragments;
    uint32_t offset;
    uint32_t count;
    uint32_t sent;
};

struct device {
    const struct settings *settings;
    struct link link;
    struct safety safety;
    struct limits limits;
    struct sampler sampler;
    struct replies replies;
    struct store store;
    struct block_read read;
    struct request_key averaging; /* valid while average_asked */
    bool average_asked;
    struct device_event events[DEVICE_EVENTS];
    uint32_t events_in;
    uint32_t events_out;
    uint16_t event_seq;
    uint16_t data_seq;
    uint32_t origin;
    uint32_t last_low;
    uint32_t high;
    bool reset_asked; /* once the answer is out */
    uint8_t reset_cause;
    volatile bool ticked;
    uint64_t executions; /* outputs commanded, for tests */
};

/* Starts: outputs off, BOOT. The seed must differ from start to start; it makes boot id and tokens. */
void device_init(struct device *device, const struct settings *settings, uint32_t seed, enum reset_cause cause);

/* From the timer interrupt. */
void device_tick(struct device *device);

/* From the receive interrupt. */
void device_received(struct device *device, uint8_t byte);

/* From the main loop. */
void device_poll(struct device *device);

/* Bytes to be sent. */
size_t device_transmit(struct device *device, uint8_t *out, size_t max);

/* Whether the main loop has nothing to do until the next interrupt. */
bool device_idle(const struct device *device);

/* Whether the timer interrupt has run since the last call: the watchdog is to be fed only then. */
bool device_alive(struct device *device);

/* Device clock, 0 at reset. */
uint64_t device_now(struct device *device);

#endif

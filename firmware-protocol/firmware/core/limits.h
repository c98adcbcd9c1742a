/* Limits that the device trips on by itself. All functions: with the lock held. */
#ifndef RP_LIMITS_H
#define RP_LIMITS_H

#include <stdbool.h>
#include <stdint.h>

#include "port.h"
#include "safety.h"

struct limit {
    bool enabled;
    bool broken;
    int16_t low;
    int16_t high;
    uint32_t delay_us;
    uint64_t broken_since;
};

struct limits {
    struct limit of[PORT_MAX_CHANNELS];
};

/* Sets a limit; gives the delay in force, rounded up to whole periods. */
uint32_t limits_set(struct limits *limits, const struct settings *settings, uint8_t channel, const struct limit *wanted);

/* Looks, in ARMED and ACTIVE. */
void limits_tick(struct limits *limits, struct safety *safety, uint64_t now);

#endif

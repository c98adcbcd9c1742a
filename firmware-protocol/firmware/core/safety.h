/* States, faults, heartbeat, outputs. The only part that switches anything. All functions: with the lock held. */
#ifndef RP_SAFETY_H
#define RP_SAFETY_H

#include <stdbool.h>
#include <stdint.h>

#include "settings.h"

enum state { STATE_BOOT, STATE_SAFE, STATE_ARMED, STATE_ACTIVE, STATE_TRIPPED };

enum fault {
    FAULT_HOST_SILENT,
    FAULT_LIMIT_HIGH,
    FAULT_LIMIT_LOW,
    FAULT_OVERTEMPERATURE,
    FAULT_INTERLOCK_OPEN,
    FAULT_RELAY_MISMATCH,
    FAULT_ADC_FAULT,
    FAULT_WATCHDOG_RESET,
    FAULT_BROWN_OUT,
    FAULT_INTERNAL,
    FAULT_COUNT,
    FAULT_NONE = 255
};

enum event { EVENT_STATE_CHANGED = 1, EVENT_TRIPPED, EVENT_CAPTURE_DONE, EVENT_BOOTED };

/* Hears of changes at the instant they happen. */
struct safety_listener {
    void *self;
    void (*event)(void *self, enum event event, uint32_t detail, uint64_t now);
    void (*load_edge)(void *self, uint64_t now);
};

struct safety {
    const struct settings *settings;
    struct safety_listener listener;
    uint32_t ticks_per_ms;
    enum state state;
    uint32_t boot_id;
    uint32_t relays_commanded;
    uint32_t latched;
    uint32_t fault_relays;
    int32_t fault_code;
    uint8_t first_fault;
    uint8_t fault_channel;
    bool load_commanded;
    bool releasing;
    bool settling;
    uint64_t fault_ticks;
    uint64_t boot_end;
    uint64_t release_at;
    uint64_t settled_at;
    uint64_t fed_at;
    uint32_t token;
    uint32_t token_seed;
    uint32_t arms;
    uint16_t timeout_ms;
};

/* Everything off, then BOOT. */
void safety_boot(struct safety *safety, uint64_t now);

/* Does what is due. To be called by the timer interrupt every limit_period_us. */
void safety_tick(struct safety *safety, uint64_t now);

bool safety_energised(const struct safety *safety);

/* Latches a fault and switches off. */
void safety_trip(struct safety *safety, enum fault fault, uint8_t channel, int32_t code, uint64_t now);

/* SAFE_STATE: the host's wish, not a fault. */
void safety_off(struct safety *safety, uint64_t now);

/* From SAFE to ARMED; gives the token. */
uint32_t safety_arm(struct safety *safety, uint32_t nonce, uint16_t timeout_ms, uint64_t now);

bool safety_armed_with(const struct safety *safety, uint32_t token);

/* A heartbeat; true if it counted. timeout_ms 0 keeps the present time-out. */
bool safety_feed(struct safety *safety, uint32_t token, uint16_t timeout_ms, uint64_t now);

void safety_relays(struct safety *safety, uint32_t mask, uint32_t value, uint64_t now);

void safety_load(struct safety *safety, bool on, uint64_t now);

/* Forgets those of the faults whose cause is gone; what stays latched. */
uint32_t safety_clear(struct safety *safety, uint32_t faults, uint64_t now);

/* Faults whose cause is there now. */
uint32_t safety_active(const struct safety *safety);

uint16_t safety_open_interlocks(const struct safety *safety);

/* Load-enable low and all contacts released, by read-back. */
bool safety_outputs_off(void);

#endif

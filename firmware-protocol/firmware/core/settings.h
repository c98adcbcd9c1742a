/* What a board is: constant from one reset to the next. */
#ifndef RP_SETTINGS_H
#define RP_SETTINGS_H

#include <stdint.h>

struct channel_info {
    const char *name;
    int32_t low_uv;
    int32_t high_uv;
};

struct settings {
    const char *board;
    const char *serial;
    const char *build;
    const struct channel_info *channels;
    int16_t *buffer; /* capture memory, buffer_samples long */
    uint32_t buffer_samples;
    uint8_t *staging; /* store_bytes long; null without storage */
    uint32_t tick_hz; /* whole multiple of 1000 */
    uint32_t max_rate_hz;
    uint32_t min_period_ticks;
    uint32_t hot_relays;
    uint32_t limit_period_us; /* how often device_tick is called */
    uint32_t features;
    uint16_t store_bytes;
    uint16_t heartbeat_min_ms;
    uint16_t heartbeat_max_ms;
    uint16_t load_off_ms;
    uint16_t relay_settle_ms;
    uint16_t boot_ms;
    uint16_t interlock_mask;
    uint8_t channel_count;
    uint8_t relay_count;
    uint8_t input_count;
};

enum feature {
    FEATURE_SIMULATED = 1,
    FEATURE_CAPTURE = 2,
    FEATURE_LIMITS = 4,
    FEATURE_LEVEL_TRIGGER = 8,
    FEATURE_STREAM = 16,
    FEATURE_STORE = 32,
    FEATURE_SELF_TEST = 64
};

/* Resolution of every channel. */
#define CODE_BITS 16
#define CODE_MIN (-32768)
#define CODE_MAX 32767

#endif

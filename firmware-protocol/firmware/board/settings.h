/* The board that both emulations are: 32 inputs of +-10.24 V, eight relays, one interlock. Included once by each main.c. */
#ifndef RP_BOARD_SETTINGS_H
#define RP_BOARD_SETTINGS_H

#include "../core/settings.h"
#include "bench_io.h"

#define BUFFER_SAMPLES 131072u

#define INPUT(name) {name, -10240000, 10240000}

static const struct channel_info board_channels[32] = {
    INPUT("in 0"), INPUT("in 1"), INPUT("in 2"), INPUT("in 3"), INPUT("in 4"), INPUT("in 5"), INPUT("in 6"),
    INPUT("in 7"), INPUT("in 8"), INPUT("in 9"), INPUT("in 10"), INPUT("in 11"), INPUT("in 12"), INPUT("in 13"),
    INPUT("in 14"), INPUT("in 15"), INPUT("in 16"), INPUT("in 17"), INPUT("in 18"), INPUT("in 19"), INPUT("in 20"),
    INPUT("in 21"), INPUT("in 22"), INPUT("in 23"), INPUT("in 24"), INPUT("in 25"), INPUT("in 26"), INPUT("in 27"),
    INPUT("in 28"), INPUT("in 29"), INPUT("in 30"), INPUT("in 31"),
};

static int16_t board_buffer[BUFFER_SAMPLES];
static uint8_t board_staging[STORE_RECORD];

static const struct settings board_settings = {
    .board = BOARD_MODEL, .serial = "B-0001", .build = "reference 1.0", .channels = board_channels,
    .buffer = board_buffer, .buffer_samples = BUFFER_SAMPLES, .staging = board_staging, .tick_hz = 1000000,
    .max_rate_hz = 100000, .min_period_ticks = 10, .hot_relays = 0, .limit_period_us = 500,
    .features = FEATURE_SIMULATED | FEATURE_CAPTURE | FEATURE_LIMITS | FEATURE_LEVEL_TRIGGER | FEATURE_STREAM
            | FEATURE_STORE | FEATURE_SELF_TEST,
    .store_bytes = STORE_RECORD, .heartbeat_min_ms = 200, .heartbeat_max_ms = 2000, .load_off_ms = 10,
    .relay_settle_ms = 8, .boot_ms = 5, .interlock_mask = 1, .channel_count = 32, .relay_count = 8, .input_count = 16,
};

#endif

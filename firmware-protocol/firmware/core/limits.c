#include "limits.h"

uint32_t limits_set(struct limits *limits, const struct settings *settings, uint8_t channel, const struct limit *wanted)
{
    uint32_t period = settings->limit_period_us;
    struct limit *limit = &limits->of[channel];
    *limit = *wanted;
    limit->broken = false;
    limit->delay_us = (wanted->delay_us + period - 1) / period * period;
    return limit->delay_us;
}

static bool any_enabled(const struct limits *limits, const struct safety *safety)
{
    for (unsigned c = 0; c < safety->settings->channel_count; c++)
        if (limits->of[c].enabled)
            return true;
    return false;
}

static void look(struct limit *limit, uint8_t channel, int16_t code, struct safety *safety, uint64_t now)
{
    if (code >= limit->low && code <= limit->high) {
        limit->broken = false;
        return;
    }
    if (!limit->broken) {
        limit->broken = true;
        limit->broken_since = now;
    }
    uint64_t delay = (uint64_t)limit->delay_us * safety->ticks_per_ms / 1000;
    if (now - limit->broken_since >= delay)
        safety_trip(safety, code > limit->high ? FAULT_LIMIT_HIGH : FAULT_LIMIT_LOW, channel, code, now);
}

void limits_tick(struct limits *limits, struct safety *safety, uint64_t now)
{
    if (!safety_energised(safety) || !any_enabled(limits, safety))
        return;
    int16_t codes[PORT_MAX_CHANNELS] = {0};
    port_look(codes);
    for (uint8_t c = 0; c < safety->settings->channel_count && safety_energised(safety); c++)
        if (limits->of[c].enabled)
            look(&limits->of[c], c, codes[c], safety, now);
}

#include <string.h>

#include "bytes.h"
#include "crc32.h"
#include "sampler_jobs.h"

/* Scans that go into the checksum at a time. */
#define CRC_SCANS 64

uint16_t sampler_configure(struct sampler *sampler, const struct capture_plan *plan)
{
    struct capture *capture = &sampler->capture;
    memset(capture, 0, sizeof *capture);
    capture->plan = *plan;
    capture->id = sampler_next_id(sampler);
    for (unsigned c = 0; c < PORT_MAX_CHANNELS; c++)
        capture->channels = (uint8_t)(capture->channels + (plan->mask >> c & 1));
    return capture->id;
}

void capture_restart(struct capture *capture, uint64_t start)
{
    bool at_once = capture->plan.trigger == TRIGGER_IMMEDIATE;
    capture->start = start;
    capture->taken = 0;
    capture->triggered = false;
    capture->filled = false;
    capture->dropped = 0;
    capture->trigger_pending = at_once;
    capture->trigger_ticks = start;
    capture->state = at_once ? CAPTURE_FILLING : CAPTURE_WAIT_TRIGGER;
}

void sampler_capture_abort(struct sampler *sampler)
{
    struct capture *capture = &sampler->capture;
    if (capture->state == CAPTURE_DONE)
        return;
    capture->state = CAPTURE_ABORTED;
    capture->filled = false;
    if (sampler->job == JOB_CAPTURE)
        sampler_stop(sampler);
}

void sampler_trigger(struct sampler *sampler, enum trigger trigger, uint64_t at)
{
    struct capture *capture = &sampler->capture;
    if (capture->state != CAPTURE_WAIT_TRIGGER || capture->trigger_pending)
        return;
    if (trigger == TRIGGER_HOST || trigger == capture->plan.trigger) {
        capture->trigger_pending = true;
        capture->trigger_ticks = at;
    }
}

uint64_t capture_first(const struct capture *capture)
{
    return capture->trigger_at > capture->plan.pre_scans ? capture->trigger_at - capture->plan.pre_scans : 0;
}

static void watch_level(struct sampler *sampler, int16_t code, uint64_t at)
{
    struct capture *capture = &sampler->capture;
    int16_t level = capture->plan.level;
    if (capture->taken > 0) {
        if (capture->last_level < level && code >= level)
            sampler_trigger(sampler, TRIGGER_LEVEL_RISE, at);
        if (capture->last_level > level && code <= level)
            sampler_trigger(sampler, TRIGGER_LEVEL_FALL, at);
    }
    capture->last_level = code;
}

static bool timed_out(const struct sampler *sampler)
{
    const struct capture *capture = &sampler->capture;
    uint64_t limit = (uint64_t)capture->plan.timeout_ms * (sampler->settings->tick_hz / 1000);
    return limit > 0 && capture->taken * capture->plan.period >= limit;
}

void capture_take(struct sampler *sampler, const int16_t *codes, uint64_t at)
{
    struct capture *capture = &sampler->capture;
    watch_level(sampler, codes[capture->plan.trigger_channel], at);
    if (capture->trigger_pending && !capture->triggered && at >= capture->trigger_ticks) {
        capture->triggered = true;
        capture->trigger_at = capture->taken;
        capture->state = CAPTURE_FILLING;
    }
    int16_t *into = sampler->settings->buffer + capture->taken % capture->plan.scans * capture->channels;
    for (unsigned k = 0; k < sampler->channels; k++)
        *into++ = codes[sampler->channel[k]];
    capture->taken++;
    if (capture->triggered && capture->taken == capture_first(capture) + capture->plan.scans) {
        capture->filled = true;
        capture->crc_scan = 0;
        capture->crc = CRC32_START;
        sampler_stop(sampler);
    } else if (!capture->triggered && timed_out(sampler)) {
        capture->state = CAPTURE_ABORTED;
        sampler_stop(sampler);
    }
}

void capture_bytes(const struct sampler *sampler, uint32_t scan, uint32_t count, uint8_t *out)
{
    const struct capture *capture = &sampler->capture;
    for (uint32_t s = scan; s < scan + count; s++) {
        const int16_t *from =
                sampler->settings->buffer + (capture_first(capture) + s) % capture->plan.scans * capture->channels;
        for (unsigned k = 0; k < capture->channels; k++, out += 2)
            put_u16(out, (uint16_t)from[k]);
    }
}

bool sampler_finish(struct sampler *sampler)
{
    struct capture *capture = &sampler->capture;
    if (!capture->filled)
        return false;
    uint32_t left = capture->plan.scans - capture->crc_scan;
    uint32_t count = left < CRC_SCANS ? left : CRC_SCANS;
    uint8_t bytes[2 * PORT_MAX_CHANNELS];
    for (uint32_t k = 0; k < count; k++) {
        capture_bytes(sampler, capture->crc_scan + k, 1, bytes);
        capture->crc = crc32_update(capture->crc, bytes, 2u * capture->channels);
    }
    capture->crc_scan += count;
    if (capture->crc_scan < capture->plan.scans)
        return false;
    capture->crc = crc32_end(capture->crc);
    capture->filled = false;
    capture->state = CAPTURE_DONE;
    return true;
}

#include "sampler.h"

#include <string.h>

#include "bytes.h"
#include "crc32.h"
#include "sampler_jobs.h"

/* As many scans are taken in one interrupt at most; the rest waits in the converter's queue. */
#define SCANS_PER_TICK 64
/* A converter that has not delivered a scan so long after its instant has failed. */
#define CONVERTER_DEAD_S 5

void sampler_init(struct sampler *sampler, const struct settings *settings)
{
    memset(sampler, 0, sizeof *sampler);
    sampler->settings = settings;
}

bool sampler_busy(const struct sampler *sampler)
{
    return sampler->job != JOB_NONE;
}

static void begin(struct sampler *sampler, enum job job, uint32_t mask, uint32_t period, uint64_t start)
{
    sampler->job = job;
    sampler->mask = mask;
    sampler->period = period;
    sampler->start = start;
    sampler->taken = 0;
    sampler->channels = 0;
    for (uint8_t c = 0; c < PORT_MAX_CHANNELS; c++)
        if (mask >> c & 1)
            sampler->channel[sampler->channels++] = c;
    port_scan_start(start, period, mask);
}

void sampler_stop(struct sampler *sampler)
{
    if (sampler->job != JOB_NONE)
        port_scan_stop();
    sampler->job = JOB_NONE;
}

uint16_t sampler_next_id(struct sampler *sampler)
{
    sampler->last_id = sampler->last_id == 0xFFFF ? 1 : (uint16_t)(sampler->last_id + 1);
    return sampler->last_id;
}

/* --- averages ------------------------------------------------------------------------------------------------------------- */

void sampler_average(struct sampler *sampler, uint32_t mask, uint32_t samples, uint32_t period, uint64_t start)
{
    memset(&sampler->average, 0, sizeof sampler->average);
    sampler->average.samples = samples;
    begin(sampler, JOB_AVERAGE, mask, period, start);
}

static void average_take(struct sampler *sampler, const int16_t *codes)
{
    struct average *average = &sampler->average;
    for (unsigned k = 0; k < sampler->channels; k++) {
        int16_t code = codes[sampler->channel[k]];
        if (sampler->taken == 0) {
            average->first[k] = code;
            average->lowest[k] = code;
            average->highest[k] = code;
        }
        if (code < average->lowest[k])
            average->lowest[k] = code;
        if (code > average->highest[k])
            average->highest[k] = code;
        int32_t deviation = (int32_t)code - average->first[k];
        average->sum[k] += deviation;
        average->squares[k] += (uint64_t)((int64_t)deviation * deviation);
    }
    if (sampler->taken + 1 == average->samples) {
        average->end = AVERAGE_DONE;
        sampler_stop(sampler);
    }
}

/* --- all jobs ------------------------------------------------------------------------------------------------------------- */

void sampler_capture_start(struct sampler *sampler, uint64_t start)
{
    struct capture *capture = &sampler->capture;
    capture_restart(capture, start);
    begin(sampler, JOB_CAPTURE, capture->plan.mask, capture->plan.period, start);
}

uint16_t sampler_stream(struct sampler *sampler, uint32_t mask, uint32_t period, uint16_t credits, uint64_t start)
{
    memset(&sampler->capture, 0, sizeof sampler->capture);
    begin(sampler, JOB_STREAM, mask, period, start);
    struct stream *stream = &sampler->stream;
    memset(stream, 0, sizeof *stream);
    stream->id = sampler_next_id(sampler);
    stream->mask = mask;
    stream->credits = credits;
    stream->channels = sampler->channels;
    stream->capacity = sampler->settings->buffer_samples / stream->channels;
    return stream->id;
}

static void take(struct sampler *sampler, const int16_t *codes, uint64_t at)
{
    if (sampler->job == JOB_AVERAGE)
        average_take(sampler, codes);
    else if (sampler->job == JOB_CAPTURE)
        capture_take(sampler, codes, at);
    else
        stream_put(sampler, codes, at);
    sampler->taken++;
}

static void lost(struct sampler *sampler)
{
    if (sampler->job == JOB_AVERAGE) {
        sampler->average.end = AVERAGE_FAILED;
        sampler_stop(sampler);
    } else if (sampler->job == JOB_CAPTURE) {
        sampler->capture.dropped++;
        sampler->capture.state = CAPTURE_OVERRUN;
        sampler_stop(sampler);
    } else {
        stream_gap(sampler);
        sampler->taken++;
    }
}

void sampler_tick(struct sampler *sampler, uint64_t now)
{
    for (int budget = SCANS_PER_TICK; budget > 0 && sampler->job != JOB_NONE; budget--) {
        uint64_t at = sampler->start + sampler->taken * sampler->period;
        if (at > now)
            return;
        int16_t codes[PORT_MAX_CHANNELS];
        enum port_scan_result result = port_scan(at, codes);
        if (result == PORT_SCAN_LATER && now - at < (uint64_t)CONVERTER_DEAD_S * sampler->settings->tick_hz)
            return;
        if (result == PORT_SCAN_TAKEN)
            take(sampler, codes, at);
        else
            lost(sampler);
    }
}

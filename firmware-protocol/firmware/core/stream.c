#include "bytes.h"
#include "port.h"
#include "sampler_jobs.h"

/* What is held is one piece without gap: after a loss nothing is taken in until all that was held is out. */

void stream_gap(struct sampler *sampler)
{
    sampler->stream.full = true;
    sampler->stream.dropped++;
}

void stream_put(struct sampler *sampler, const int16_t *codes, uint64_t at)
{
    struct stream *stream = &sampler->stream;
    if (stream->held == 0) {
        stream->full = false;
        stream->base = (uint32_t)sampler->taken;
        stream->read_at = 0;
        stream->oldest_at = at;
    }
    if (stream->full || stream->held == stream->capacity) {
        stream_gap(sampler);
        return;
    }
    uint32_t place = (stream->read_at + stream->held) % stream->capacity;
    int16_t *into = sampler->settings->buffer + (size_t)place * stream->channels;
    for (unsigned k = 0; k < stream->channels; k++)
        *into++ = codes[sampler->channel[k]];
    stream->held++;
}

uint32_t stream_take(struct sampler *sampler, uint32_t max, uint32_t *first, uint8_t *out)
{
    struct stream *stream = &sampler->stream;
    uint32_t before = port_lock();
    uint32_t count = stream->held < max ? stream->held : max;
    uint32_t place = stream->read_at;
    *first = stream->base;
    port_unlock(before);
    /* the scans counted above stay where they are until held is lowered */
    for (uint32_t s = 0; s < count; s++) {
        const int16_t *from = sampler->settings->buffer + (size_t)((place + s) % stream->capacity) * stream->channels;
        for (unsigned k = 0; k < stream->channels; k++, out += 2)
            put_u16(out, (uint16_t)from[k]);
    }
    before = port_lock();
    stream->held -= count;
    stream->base += count;
    stream->read_at = (place + count) % stream->capacity;
    stream->oldest_at = sampler->start + (sampler->taken - stream->held) * sampler->period;
    port_unlock(before);
    return count;
}

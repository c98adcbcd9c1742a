/* Requests about averages, captures and streams. The dispatcher holds the lock. */
#include <string.h>

#include "bytes.h"
#include "commands.h"
#include "messages.h"

#define LONGEST_READING_S 10

static int refuse_boot_or_busy(struct device *device, struct call *call)
{
    if (device->safety.state == STATE_BOOT)
        refuse(call, ERROR_BAD_STATE, STATE_BOOT);
    else if (sampler_busy(&device->sampler) || device->average_asked || device->sampler.capture.filled)
        refuse(call, ERROR_BUSY, 0);
    return call->code;
}

static bool good_mask(const struct device *device, uint32_t mask)
{
    uint8_t count = device->settings->channel_count;
    return mask != 0 && (count == 32 || mask >> count == 0);
}

static unsigned bits(uint32_t mask)
{
    unsigned count = 0;
    for (; mask != 0; mask &= mask - 1)
        count++;
    return count;
}

/* --- ANALOG_READ ---------------------------------------------------------------------------------------------------------- */

int command_analog_read(struct device *device, struct call *call)
{
    if (refuse_boot_or_busy(device, call))
        return 0;
    uint32_t mask = get_u32(call->in + RP_ANALOG_READ_REQUEST_CHANNEL_MASK);
    uint16_t samples = get_u16(call->in + RP_ANALOG_READ_REQUEST_SAMPLES);
    uint32_t period = get_u32(call->in + RP_ANALOG_READ_REQUEST_PERIOD_TICKS);
    if (!good_mask(device, mask)
            || RP_ANALOG_READ_RESPONSE_SIZE + bits(mask) * RP_ANALOG_READ_RESPONSE_GROUP > FRAME_MAX_PAYLOAD)
        return refuse(call, ERROR_BAD_VALUE, RP_ANALOG_READ_REQUEST_CHANNEL_MASK);
    if (samples < 1 || samples > RP_ANALOG_READ_REQUEST_SAMPLES_MAX)
        return refuse(call, ERROR_BAD_VALUE, RP_ANALOG_READ_REQUEST_SAMPLES);
    if (period < device->settings->min_period_ticks
            || (uint64_t)samples * period > (uint64_t)LONGEST_READING_S * device->settings->tick_hz)
        return refuse(call, ERROR_BAD_VALUE, RP_ANALOG_READ_REQUEST_PERIOD_TICKS);
    sampler_average(&device->sampler, mask, samples, period, device_now(device) + 1);
    device->averaging = request_key(call->request);
    device->average_asked = true;
    call->later = true;
    return 0;
}

int average_answer(struct device *device, struct call *call)
{
    const struct sampler *sampler = &device->sampler;
    const struct average *average = &sampler->average;
    if (average->end == AVERAGE_FAILED)
        return refuse(call, ERROR_HARDWARE, 0);
    uint8_t *out = call->out;
    put_u64(out + RP_ANALOG_READ_RESPONSE_START_TICKS, sampler->start);
    put_u32(out + RP_ANALOG_READ_RESPONSE_CHANNEL_MASK, sampler->mask);
    put_u16(out + RP_ANALOG_READ_RESPONSE_SAMPLES, (uint16_t)average->samples);
    put_u32(out + RP_ANALOG_READ_RESPONSE_PERIOD_TICKS, sampler->period);
    for (unsigned k = 0; k < sampler->channels; k++, out += RP_ANALOG_READ_RESPONSE_GROUP) {
        put_u32(out + RP_ANALOG_READ_RESPONSE_FIRST, (uint32_t)average->first[k]);
        put_u32(out + RP_ANALOG_READ_RESPONSE_LOWEST, (uint32_t)average->lowest[k]);
        put_u32(out + RP_ANALOG_READ_RESPONSE_HIGHEST, (uint32_t)average->highest[k]);
        put_u64(out + RP_ANALOG_READ_RESPONSE_SUM, (uint64_t)average->sum[k]);
        put_u64(out + RP_ANALOG_READ_RESPONSE_SQUARES, average->squares[k]);
    }
    return (int)(RP_ANALOG_READ_RESPONSE_SIZE + sampler->channels * RP_ANALOG_READ_RESPONSE_GROUP);
}

/* --- captures ------------------------------------------------------------------------------------------------------------- */

static int check_plan(const struct device *device, struct call *call, const struct capture_plan *plan, int32_t level)
{
    const struct settings *settings = device->settings;
    bool by_level = plan->trigger == TRIGGER_LEVEL_RISE || plan->trigger == TRIGGER_LEVEL_FALL;
    uint64_t samples = (uint64_t)plan->scans * bits(plan->mask);
    if (!good_mask(device, plan->mask))
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_CHANNEL_MASK);
    if (plan->trigger > TRIGGER_FAULT || (by_level && !(settings->features & FEATURE_LEVEL_TRIGGER)))
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER);
    if (plan->trigger_channel >= PORT_MAX_CHANNELS || (by_level && !(plan->mask >> plan->trigger_channel & 1)))
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_CHANNEL);
    if (plan->period < settings->min_period_ticks)
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_PERIOD_TICKS);
    if (plan->scans < 1 || samples > settings->buffer_samples)
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_SCANS);
    if (plan->pre_scans >= plan->scans || (plan->trigger == TRIGGER_IMMEDIATE && plan->pre_scans != 0))
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_PRE_SCANS);
    if (level < CODE_MIN || level > CODE_MAX)
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_LEVEL_CODE);
    if (plan->timeout_ms > RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_TIMEOUT_MS_MAX)
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_TIMEOUT_MS);
    return 0;
}

int command_capture_configure(struct device *device, struct call *call)
{
    if (refuse_boot_or_busy(device, call))
        return 0;
    const uint8_t *in = call->in;
    int32_t level = get_i32(in + RP_CAPTURE_CONFIGURE_REQUEST_LEVEL_CODE);
    struct capture_plan plan = {
        .mask = get_u32(in + RP_CAPTURE_CONFIGURE_REQUEST_CHANNEL_MASK),
        .period = get_u32(in + RP_CAPTURE_CONFIGURE_REQUEST_PERIOD_TICKS),
        .scans = get_u32(in + RP_CAPTURE_CONFIGURE_REQUEST_SCANS),
        .pre_scans = get_u32(in + RP_CAPTURE_CONFIGURE_REQUEST_PRE_SCANS),
        .timeout_ms = get_u32(in + RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_TIMEOUT_MS),
        .trigger = in[RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER],
        .trigger_channel = in[RP_CAPTURE_CONFIGURE_REQUEST_TRIGGER_CHANNEL],
    };
    check_plan(device, call, &plan, level);
    if (call->code)
        return 0;
    plan.level = (int16_t)level;
    device->read.active = false;
    uint8_t *out = call->out;
    put_u16(out + RP_CAPTURE_CONFIGURE_RESPONSE_CAPTURE_ID, sampler_configure(&device->sampler, &plan));
    put_u32(out + RP_CAPTURE_CONFIGURE_RESPONSE_CHANNEL_MASK, plan.mask);
    put_u32(out + RP_CAPTURE_CONFIGURE_RESPONSE_PERIOD_TICKS, plan.period);
    put_u32(out + RP_CAPTURE_CONFIGURE_RESPONSE_SCANS, plan.scans);
    put_u32(out + RP_CAPTURE_CONFIGURE_RESPONSE_PRE_SCANS, plan.pre_scans);
    return RP_CAPTURE_CONFIGURE_RESPONSE_SIZE;
}

static bool is_present(const struct device *device, uint16_t id)
{
    return id != 0 && id == device->sampler.capture.id;
}

int command_capture_control(struct device *device, struct call *call)
{
    enum { START = 1, TRIGGER_NOW, ABORT };
    struct capture *capture = &device->sampler.capture;
    uint8_t op = call->in[RP_CAPTURE_CONTROL_REQUEST_OP];
    if (!is_present(device, get_u16(call->in + RP_CAPTURE_CONTROL_REQUEST_CAPTURE_ID)))
        return refuse(call, ERROR_NO_DATA, 0);
    if (op < START || op > ABORT)
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_CONTROL_REQUEST_OP);
    if (op == START) {
        if (refuse_boot_or_busy(device, call))
            return 0;
        device->read.active = false;
        sampler_capture_start(&device->sampler, device_now(device) + 1);
    } else if (op == TRIGGER_NOW) {
        sampler_trigger(&device->sampler, TRIGGER_HOST, device_now(device));
    } else {
        sampler_capture_abort(&device->sampler);
    }
    put_u16(call->out + RP_CAPTURE_CONTROL_RESPONSE_CAPTURE_ID, capture->id);
    call->out[RP_CAPTURE_CONTROL_RESPONSE_STATE] = (uint8_t)capture->state;
    return RP_CAPTURE_CONTROL_RESPONSE_SIZE;
}

int command_capture_status(struct device *device, struct call *call)
{
    const struct capture *capture = &device->sampler.capture;
    bool done = capture->state == CAPTURE_DONE;
    uint64_t first = capture_first(capture);
    uint8_t *out = call->out;
    if (capture->id == 0)
        return RP_CAPTURE_STATUS_RESPONSE_SIZE;
    put_u16(out + RP_CAPTURE_STATUS_RESPONSE_CAPTURE_ID, capture->id);
    out[RP_CAPTURE_STATUS_RESPONSE_STATE] = (uint8_t)capture->state;
    bool all = capture->taken >= capture->plan.scans;
    put_u32(out + RP_CAPTURE_STATUS_RESPONSE_FILLED, all ? capture->plan.scans : (uint32_t)capture->taken);
    put_u32(out + RP_CAPTURE_STATUS_RESPONSE_DROPPED, capture->dropped);
    if (done) {
        put_u64(out + RP_CAPTURE_STATUS_RESPONSE_START_TICKS, capture->start + first * capture->plan.period);
        put_u32(out + RP_CAPTURE_STATUS_RESPONSE_TRIGGER_SCAN, (uint32_t)(capture->trigger_at - first));
        put_u32(out + RP_CAPTURE_STATUS_RESPONSE_BLOCK_CRC, capture->crc);
    }
    return RP_CAPTURE_STATUS_RESPONSE_SIZE;
}

int command_capture_read(struct device *device, struct call *call)
{
    const struct capture *capture = &device->sampler.capture;
    uint32_t offset = get_u32(call->in + RP_CAPTURE_READ_REQUEST_OFFSET);
    uint32_t count = get_u32(call->in + RP_CAPTURE_READ_REQUEST_COUNT);
    if (!is_present(device, get_u16(call->in + RP_CAPTURE_READ_REQUEST_CAPTURE_ID)))
        return refuse(call, ERROR_NO_DATA, 0);
    if (capture->state != CAPTURE_DONE)
        return refuse(call, ERROR_NO_DATA, capture->state);
    if (offset >= capture->plan.scans)
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_READ_REQUEST_OFFSET);
    if (count < 1 || count > capture->plan.scans - offset)
        return refuse(call, ERROR_BAD_VALUE, RP_CAPTURE_READ_REQUEST_COUNT);
    struct block_read read = {true, request_key(call->request), 0, offset, count, 0};
    device->read = read; /* in place of one that the host has given up */
    call->later = true;
    return 0;
}

/* --- streams -------------------------------------------------------------------------------------------------------------- */

int command_stream_start(struct device *device, struct call *call)
{
    if (refuse_boot_or_busy(device, call))
        return 0;
    uint32_t mask = get_u32(call->in + RP_STREAM_START_REQUEST_CHANNEL_MASK);
    uint32_t period = get_u32(call->in + RP_STREAM_START_REQUEST_PERIOD_TICKS);
    if (!good_mask(device, mask))
        return refuse(call, ERROR_BAD_VALUE, RP_STREAM_START_REQUEST_CHANNEL_MASK);
    if (period < device->settings->min_period_ticks)
        return refuse(call, ERROR_BAD_VALUE, RP_STREAM_START_REQUEST_PERIOD_TICKS);
    device->read.active = false;
    uint64_t start = device_now(device) + 1;
    uint16_t credits = get_u16(call->in + RP_STREAM_START_REQUEST_CREDITS);
    uint8_t *out = call->out;
    uint16_t id = sampler_stream(&device->sampler, mask, period, credits, start);
    put_u16(out + RP_STREAM_START_RESPONSE_CAPTURE_ID, id);
    put_u32(out + RP_STREAM_START_RESPONSE_CHANNEL_MASK, mask);
    put_u32(out + RP_STREAM_START_RESPONSE_PERIOD_TICKS, period);
    put_u64(out + RP_STREAM_START_RESPONSE_START_TICKS, start);
    return RP_STREAM_START_RESPONSE_SIZE;
}

static bool is_running(const struct device *device, uint16_t id)
{
    return device->sampler.job == JOB_STREAM && id == device->sampler.stream.id;
}

int command_stream_credit(struct device *device, struct call *call)
{
    struct stream *stream = &device->sampler.stream;
    if (!is_running(device, get_u16(call->in + RP_STREAM_CREDIT_REQUEST_CAPTURE_ID)))
        return refuse(call, ERROR_NO_DATA, 0);
    uint32_t credits = (uint32_t)stream->credits + get_u16(call->in + RP_STREAM_CREDIT_REQUEST_CREDITS);
    stream->credits = credits > 0xFFFF ? 0xFFFF : (uint16_t)credits;
    put_u16(call->out + RP_STREAM_CREDIT_RESPONSE_CAPTURE_ID, stream->id);
    put_u16(call->out + RP_STREAM_CREDIT_RESPONSE_CREDITS, stream->credits);
    put_u32(call->out + RP_STREAM_CREDIT_RESPONSE_SCANS, (uint32_t)device->sampler.taken);
    put_u32(call->out + RP_STREAM_CREDIT_RESPONSE_DROPPED, stream->dropped);
    return RP_STREAM_CREDIT_RESPONSE_SIZE;
}

int command_stream_stop(struct device *device, struct call *call)
{
    const struct stream *stream = &device->sampler.stream;
    if (!is_running(device, get_u16(call->in + RP_STREAM_STOP_REQUEST_CAPTURE_ID)))
        return refuse(call, ERROR_NO_DATA, 0);
    sampler_stop(&device->sampler);
    put_u16(call->out + RP_STREAM_STOP_RESPONSE_CAPTURE_ID, stream->id);
    put_u32(call->out + RP_STREAM_STOP_RESPONSE_SCANS, (uint32_t)device->sampler.taken);
    put_u32(call->out + RP_STREAM_STOP_RESPONSE_DROPPED, stream->dropped);
    return RP_STREAM_STOP_RESPONSE_SIZE;
}

#include "device.h"

#include <string.h>

#include "bytes.h"
#include "commands.h"
#include "messages.h"
#include "port.h"

/* A stream's frame goes out at the latest so long after its first scan. */
#define STREAM_PATIENCE_MS 50

uint64_t device_now(struct device *device)
{
    uint32_t before = port_lock();
    uint32_t low = port_ticks() - device->origin;
    if (low < device->last_low)
        device->high++;
    device->last_low = low;
    uint64_t now = (uint64_t)device->high << 32 | low;
    port_unlock(before);
    return now;
}

/* The instant of a stamp taken a while ago. */
static uint64_t instant(struct device *device, uint32_t stamp)
{
    uint64_t now = device_now(device);
    uint32_t age = (uint32_t)now - (stamp - device->origin);
    return age < now ? now - age : 0;
}

/* --- listeners of the parts, called with the lock held -------------------------------------------------------------------- */

static void note_event(void *self, enum event event, uint32_t detail, uint64_t now)
{
    struct device *device = self;
    if (event == EVENT_TRIPPED)
        sampler_trigger(&device->sampler, TRIGGER_FAULT, now);
    if (device->events_in - device->events_out == DEVICE_EVENTS) {
        device->link.counters.lost_events++;
        return;
    }
    struct device_event noted = {(uint8_t)event, (uint8_t)device->safety.state, detail, now};
    device->events[device->events_in % DEVICE_EVENTS] = noted;
    device->events_in++;
}

static void load_edge(void *self, uint64_t now)
{
    struct device *device = self;
    sampler_trigger(&device->sampler, TRIGGER_LOAD_EDGE, now);
}

void device_init(struct device *device, const struct settings *settings, uint32_t seed, enum reset_cause cause)
{
    memset(device, 0, sizeof *device);
    device->settings = settings;
    device->origin = port_ticks();
    device->reset_cause = (uint8_t)cause;
    sampler_init(&device->sampler, settings);
    store_open(&device->store, settings->store_bytes);
    struct safety *safety = &device->safety;
    safety->settings = settings;
    safety->listener = (struct safety_listener){device, note_event, load_edge};
    safety->boot_id = seed == 0 ? 1 : seed;
    safety->token_seed = seed * 2246822519u + 3266489917u;
    safety_boot(safety, 0);
    if (cause == RESET_WATCHDOG)
        safety_trip(safety, FAULT_WATCHDOG_RESET, FAULT_NONE, 0, 0);
}

void device_tick(struct device *device)
{
    uint32_t before = port_lock();
    uint64_t now = device_now(device);
    safety_tick(&device->safety, now);
    limits_tick(&device->limits, &device->safety, now);
    sampler_tick(&device->sampler, now);
    device->ticked = true;
    port_unlock(before);
}

void device_received(struct device *device, uint8_t byte)
{
    link_received(&device->link, byte);
}

bool device_alive(struct device *device)
{
    bool alive = device->ticked;
    device->ticked = false;
    return alive;
}

/* --- sending -------------------------------------------------------------------------------------------------------------- */

static uint8_t flags_now(const struct device *device)
{
    return (uint8_t)((device->safety.latched != 0 ? FRAME_FAULT_LATCHED : 0)
            | (safety_outputs_off() ? FRAME_OUTPUTS_SAFE : 0));
}

/* The payload lies in link.raw already. */
static size_t send(struct device *device, enum frame_kind kind, uint16_t seq, uint16_t type, size_t length)
{
    uint8_t *raw = device->link.raw;
    struct frame frame = {(uint8_t)kind, flags_now(device), seq, type, (uint16_t)length, raw + FRAME_HEADER};
    size_t built = frame_build(raw, &frame);
    link_send_raw(&device->link, raw, built);
    return built;
}

static uint8_t *payload(struct device *device)
{
    return device->link.raw + FRAME_HEADER;
}

static void answer(struct device *device, const struct request_key *key, const struct call *call, int length)
{
    enum frame_kind kind = FRAME_RESPONSE;
    if (call->code != 0) {
        kind = FRAME_ERROR;
        put_u16(payload(device), call->code);
        put_u16(payload(device) + 2, call->detail);
        length = 4;
    }
    size_t built = send(device, kind, key->seq, key->type, (size_t)length);
    replies_put(&device->replies, key, device->link.raw, built);
}

/* --- receiving ------------------------------------------------------------------------------------------------------------ */

static void execute(struct device *device, const struct frame *request, const struct request_key *key, uint32_t stamp)
{
    uint16_t least = 0;
    bool slow = false;
    command *handler = command_of(device->settings, request->type, &least, &slow);
    struct call call = {.request = request, .in = request->payload, .out = payload(device)};
    memset(call.out, 0, FRAME_MAX_PAYLOAD);
    int length = 0;
    if (handler == NULL) {
        refuse(&call, ERROR_BAD_TYPE, 0);
    } else if (request->length < least) {
        refuse(&call, ERROR_BAD_LENGTH, least);
    } else if (slow) {
        length = handler(device, &call);
    } else {
        uint32_t before = port_lock();
        call.received = instant(device, stamp);
        length = handler(device, &call);
        port_unlock(before);
    }
    if (!call.later)
        answer(device, key, &call, length);
}

static void begin_session(struct device *device)
{
    replies_clear(&device->replies);
    uint32_t before = port_lock();
    if (device->sampler.job == JOB_STREAM)
        sampler_stop(&device->sampler);
    port_unlock(before);
}

/* A full transmit buffer must not hold up SAFE_STATE: then it is carried out without an answer. */
static void handle_unanswered(struct device *device, const struct frame *request)
{
    if (request->type != RP_SAFE_STATE)
        return;
    uint32_t before = port_lock();
    safety_off(&device->safety, device_now(device));
    port_unlock(before);
}

static void handle(struct device *device, const struct frame *request, uint32_t stamp)
{
    if (request->kind != FRAME_REQUEST) {
        device->link.counters.malformed++;
        return;
    }
    device->link.counters.rx_frames++;
    if (!link_has_room(&device->link, FRAME_MAX_PAYLOAD)) {
        handle_unanswered(device, request);
        return;
    }
    struct request_key key = request_key(request);
    bool in_work = (device->average_asked && same_key(&key, &device->averaging))
            || (device->read.active && same_key(&key, &device->read.key));
    if (in_work) {
        device->link.counters.repeats++;
        return;
    }
    if (request->type == RP_IDENTIFY && !(request->flags & FRAME_RETRY))
        begin_session(device);
    bool ever_anew = request->type == RP_SAFE_STATE || request->type == RP_CAPTURE_READ;
    const struct reply *before = ever_anew ? NULL : replies_find(&device->replies, &key);
    if (before != NULL) {
        device->link.counters.repeats++;
        link_send_raw(&device->link, before->raw, before->length);
        return;
    }
    execute(device, request, &key, stamp);
}

/* --- what goes on by itself ----------------------------------------------------------------------------------------------- */

static void send_events(struct device *device)
{
    for (;;) {
        uint32_t before = port_lock();
        bool any = device->events_out != device->events_in;
        struct device_event event = device->events[device->events_out % DEVICE_EVENTS];
        if (any)
            device->events_out++;
        port_unlock(before);
        if (!any)
            return;
        if (!link_has_room(&device->link, RP_EVENT_EVENT_SIZE)) {
            device->link.counters.lost_events++;
            continue;
        }
        uint8_t *out = payload(device);
        memset(out, 0, RP_EVENT_EVENT_SIZE);
        out[RP_EVENT_EVENT_EVENT] = event.event;
        out[RP_EVENT_EVENT_STATE] = event.state;
        put_u32(out + RP_EVENT_EVENT_DETAIL, event.detail);
        put_u64(out + RP_EVENT_EVENT_TICKS, event.ticks);
        send(device, FRAME_EVENT, device->event_seq++, RP_EVENT, RP_EVENT_EVENT_SIZE);
    }
}

static void finish_average(struct device *device)
{
    if (!device->average_asked || device->sampler.average.end == AVERAGE_RUNNING
            || !link_has_room(&device->link, FRAME_MAX_PAYLOAD))
        return;
    struct call call = {.out = payload(device)};
    memset(call.out, 0, FRAME_MAX_PAYLOAD);
    device->average_asked = false;
    int length = average_answer(device, &call);
    answer(device, &device->averaging, &call, length);
}

/* Room for a data frame and, beside it, for the answer to whatever request comes next. */
static bool room_for_data(const struct device *device)
{
    return link_has_room(&device->link, 2 * FRAME_MAX_PAYLOAD + FRAME_HEADER + FRAME_CRC + 8);
}

static void send_data(struct device *device, uint16_t id, uint32_t mask, uint32_t offset, uint32_t count, unsigned channels)
{
    uint8_t *out = payload(device);
    put_u16(out + RP_SAMPLE_DATA_DATA_CAPTURE_ID, id);
    put_u16(out + RP_SAMPLE_DATA_DATA_COUNT, (uint16_t)count);
    put_u32(out + RP_SAMPLE_DATA_DATA_CHANNEL_MASK, mask);
    put_u32(out + RP_SAMPLE_DATA_DATA_OFFSET, offset);
    send(device, FRAME_DATA, device->data_seq++, RP_SAMPLE_DATA, RP_SAMPLE_DATA_DATA_SIZE + count * 2 * channels);
}

static uint32_t scans_per_frame(unsigned channels)
{
    return (FRAME_MAX_PAYLOAD - RP_SAMPLE_DATA_DATA_SIZE) / (2 * channels);
}

static void continue_read(struct device *device)
{
    struct block_read *read = &device->read;
    const struct capture *capture = &device->sampler.capture;
    while (read->active && room_for_data(device)) {
        if (read->sent < read->count) {
            uint32_t most = scans_per_frame(capture->channels);
            uint32_t count = read->count - read->sent < most ? read->count - read->sent : most;
            uint32_t offset = read->offset + read->sent;
            capture_bytes(&device->sampler, offset, count, payload(device) + RP_SAMPLE_DATA_DATA_SIZE);
            send_data(device, capture->id, capture->plan.mask, offset, count, capture->channels);
            read->sent += count;
            read->fragments++;
            continue;
        }
        uint8_t *out = payload(device);
        put_u16(out + RP_CAPTURE_READ_RESPONSE_CAPTURE_ID, capture->id);
        put_u16(out + RP_CAPTURE_READ_RESPONSE_FRAGMENTS, read->fragments);
        put_u32(out + RP_CAPTURE_READ_RESPONSE_OFFSET, read->offset);
        put_u32(out + RP_CAPTURE_READ_RESPONSE_COUNT, read->count);
        send(device, FRAME_RESPONSE, read->key.seq, read->key.type, RP_CAPTURE_READ_RESPONSE_SIZE);
        read->active = false;
    }
}

static void continue_stream(struct device *device)
{
    struct sampler *sampler = &device->sampler;
    struct stream *stream = &sampler->stream;
    while (sampler->job == JOB_STREAM && stream->credits > 0 && stream->held > 0 && room_for_data(device)) {
        uint32_t most = scans_per_frame(stream->channels);
        uint64_t patience = (uint64_t)STREAM_PATIENCE_MS * (device->settings->tick_hz / 1000);
        if (stream->held < most && !stream->full && device_now(device) < stream->oldest_at + patience)
            return;
        uint32_t first = 0;
        uint32_t count = stream_take(sampler, most, &first, payload(device) + RP_SAMPLE_DATA_DATA_SIZE);
        stream->credits--;
        send_data(device, stream->id, stream->mask, first, count, stream->channels);
    }
}

void device_poll(struct device *device)
{
    struct frame frame;
    uint32_t stamp = 0;
    while (link_next(&device->link, &frame, &stamp) == FRAME_COMPLETE)
        handle(device, &frame, stamp);
    send_events(device);
    finish_average(device);
    if (sampler_finish(&device->sampler)) {
        uint32_t before = port_lock();
        note_event(device, EVENT_CAPTURE_DONE, device->sampler.capture.id, device_now(device));
        port_unlock(before);
    }
    continue_read(device);
    continue_stream(device);
    if (device->reset_asked && !link_sending(&device->link)) {
        device->reset_asked = false;
        port_reset();
    }
}

size_t device_transmit(struct device *device, uint8_t *out, size_t max)
{
    return link_transmit(&device->link, out, max);
}

bool device_idle(const struct device *device)
{
    const struct link *link = &device->link;
    return link->rx_in == link->rx_out && !link_sending(link) && device->events_in == device->events_out
            && !device->sampler.capture.filled && !device->read.active && !device->reset_asked
            && !(device->average_asked && device->sampler.average.end != AVERAGE_RUNNING);
}

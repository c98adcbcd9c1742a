/* The stored record and the self-test. Carried out without the lock: both may take long, and are taken in SAFE only. */
#include <string.h>

#include "bytes.h"
#include "commands.h"
#include "crc32.h"
#include "messages.h"
#include "port.h"

int command_cal_read(struct device *device, struct call *call)
{
    const struct store *store = &device->store;
    uint16_t offset = get_u16(call->in + RP_CAL_READ_REQUEST_OFFSET);
    uint16_t count = get_u16(call->in + RP_CAL_READ_REQUEST_COUNT);
    if (!store->valid)
        return refuse(call, ERROR_NO_DATA, 0);
    if (offset >= store->length)
        return refuse(call, ERROR_BAD_VALUE, RP_CAL_READ_REQUEST_OFFSET);
    if (count > FRAME_MAX_PAYLOAD - RP_CAL_READ_RESPONSE_SIZE)
        return refuse(call, ERROR_BAD_VALUE, RP_CAL_READ_REQUEST_COUNT);
    if (count > store->length - offset)
        count = (uint16_t)(store->length - offset);
    uint8_t *out = call->out;
    put_u32(out + RP_CAL_READ_RESPONSE_GENERATION, store->generation);
    put_u32(out + RP_CAL_READ_RESPONSE_RECORD_CRC, store->crc);
    put_u16(out + RP_CAL_READ_RESPONSE_LENGTH, store->length);
    put_u16(out + RP_CAL_READ_RESPONSE_OFFSET, offset);
    port_store_read(store->slot, (size_t)STORE_HEADER + offset, out + RP_CAL_READ_RESPONSE_DATA, count);
    return (int)RP_CAL_READ_RESPONSE_SIZE + count;
}

static int refuse_outside_safe(struct device *device, struct call *call)
{
    if (device->safety.state != STATE_SAFE)
        refuse(call, ERROR_BAD_STATE, device->safety.state);
    return call->code;
}

int command_cal_write(struct device *device, struct call *call)
{
    if (refuse_outside_safe(device, call))
        return 0;
    uint16_t offset = get_u16(call->in + RP_CAL_WRITE_REQUEST_OFFSET);
    size_t count = call->request->length - (size_t)RP_CAL_WRITE_REQUEST_SIZE;
    if (offset + count > device->settings->store_bytes)
        return refuse(call, ERROR_BAD_VALUE, RP_CAL_WRITE_REQUEST_OFFSET);
    if (port_store_locked())
        return refuse(call, ERROR_LOCKED, 0);
    memcpy(device->settings->staging + offset, call->in + RP_CAL_WRITE_REQUEST_DATA, count);
    put_u16(call->out + RP_CAL_WRITE_RESPONSE_OFFSET, offset);
    put_u16(call->out + RP_CAL_WRITE_RESPONSE_COUNT, (uint16_t)count);
    return RP_CAL_WRITE_RESPONSE_SIZE;
}

int command_cal_commit(struct device *device, struct call *call)
{
    if (refuse_outside_safe(device, call))
        return 0;
    const struct settings *settings = device->settings;
    uint16_t length = get_u16(call->in + RP_CAL_COMMIT_REQUEST_LENGTH);
    if (get_u32(call->in + RP_CAL_COMMIT_REQUEST_MAGIC) != RP_CAL_COMMIT_REQUEST_MAGIC_MIN)
        return refuse(call, ERROR_BAD_VALUE, RP_CAL_COMMIT_REQUEST_MAGIC);
    if (length < 1 || length > settings->store_bytes)
        return refuse(call, ERROR_BAD_VALUE, RP_CAL_COMMIT_REQUEST_LENGTH);
    if (get_u32(call->in + RP_CAL_COMMIT_REQUEST_RECORD_CRC) != crc32_of(settings->staging, length))
        return refuse(call, ERROR_BAD_VALUE, RP_CAL_COMMIT_REQUEST_RECORD_CRC);
    if (port_store_locked())
        return refuse(call, ERROR_LOCKED, 0);
    if (!store_commit(&device->store, settings->store_bytes, settings->staging, length))
        return refuse(call, ERROR_HARDWARE, 0);
    memset(settings->staging, 0, settings->store_bytes);
    put_u32(call->out + RP_CAL_COMMIT_RESPONSE_GENERATION, device->store.generation);
    put_u32(call->out + RP_CAL_COMMIT_RESPONSE_RECORD_CRC, device->store.crc);
    return RP_CAL_COMMIT_RESPONSE_SIZE;
}

/* --- self-test ------------------------------------------------------------------------------------------------------------ */

enum test { TEST_OUTPUTS = 1, TEST_CONVERTER = 2, TEST_STORAGE = 4, TEST_MEMORY = 8 };

static bool memory_good(const struct settings *settings)
{
    bool good = true;
    for (unsigned pass = 0; pass < 2; pass++) {
        uint32_t flip = pass * 0xFFFFu;
        for (uint32_t k = 0; k < settings->buffer_samples; k++)
            settings->buffer[k] = (int16_t)(uint16_t)((k * 40503u) ^ flip);
        for (uint32_t k = 0; k < settings->buffer_samples; k++)
            good = good && settings->buffer[k] == (int16_t)(uint16_t)((k * 40503u) ^ flip);
    }
    return good;
}

int command_self_test(struct device *device, struct call *call)
{
    if (refuse_outside_safe(device, call))
        return 0;
    if (sampler_busy(&device->sampler) || device->average_asked || device->sampler.capture.filled)
        return refuse(call, ERROR_BUSY, 0);
    uint32_t tests = get_u32(call->in + RP_SELF_TEST_REQUEST_TESTS);
    tests &= TEST_OUTPUTS | TEST_CONVERTER | TEST_STORAGE | TEST_MEMORY;
    uint32_t failed = 0;
    if ((tests & TEST_OUTPUTS) && !safety_outputs_off())
        failed |= TEST_OUTPUTS;
    if ((tests & TEST_CONVERTER) && (port_faults() >> FAULT_ADC_FAULT & 1))
        failed |= TEST_CONVERTER;
    if ((tests & TEST_STORAGE) && !store_intact(&device->store))
        failed |= TEST_STORAGE;
    if (tests & TEST_MEMORY) {
        device->read.active = false;
        memset(&device->sampler.capture, 0, sizeof device->sampler.capture);
        if (!memory_good(device->settings))
            failed |= TEST_MEMORY;
    }
    put_u32(call->out + RP_SELF_TEST_RESPONSE_DONE, tests);
    put_u32(call->out + RP_SELF_TEST_RESPONSE_FAILED, failed);
    return RP_SELF_TEST_RESPONSE_SIZE;
}

/* Requests about states, faults and outputs. The dispatcher holds the lock. */
#include "bytes.h"
#include "commands.h"
#include "messages.h"
#include "port.h"

int put_status(struct device *device, uint8_t *out)
{
    const struct safety *safety = &device->safety;
    out[RP_HEARTBEAT_RESPONSE_STATE] = (uint8_t)safety->state;
    out[RP_HEARTBEAT_RESPONSE_LOAD_ENABLE] = port_load_enable_read();
    put_u16(out + RP_HEARTBEAT_RESPONSE_INPUTS, port_inputs());
    put_u32(out + RP_HEARTBEAT_RESPONSE_RELAYS, port_relays_read());
    put_u32(out + RP_HEARTBEAT_RESPONSE_BOOT_ID, safety->boot_id);
    put_u32(out + RP_HEARTBEAT_RESPONSE_FAULTS, safety->latched);
    put_u64(out + RP_HEARTBEAT_RESPONSE_TICKS, device_now(device));
    return RP_SAFE_STATE_RESPONSE_SIZE;
}

static bool timeout_in_range(const struct settings *settings, uint16_t timeout_ms)
{
    return timeout_ms >= settings->heartbeat_min_ms && timeout_ms <= settings->heartbeat_max_ms;
}

int command_heartbeat(struct device *device, struct call *call)
{
    uint16_t timeout_ms = get_u16(call->in + RP_HEARTBEAT_REQUEST_TIMEOUT_MS);
    if (timeout_ms != 0 && !timeout_in_range(device->settings, timeout_ms))
        return refuse(call, ERROR_BAD_VALUE, RP_HEARTBEAT_REQUEST_TIMEOUT_MS);
    uint32_t token = get_u32(call->in + RP_HEARTBEAT_REQUEST_ARM_TOKEN);
    bool fed = safety_feed(&device->safety, token, timeout_ms, call->received);
    put_status(device, call->out);
    call->out[RP_HEARTBEAT_RESPONSE_FED] = fed;
    return RP_HEARTBEAT_RESPONSE_SIZE;
}

int command_status_read(struct device *device, struct call *call)
{
    const struct safety *safety = &device->safety;
    bool armed = safety_energised(safety);
    uint8_t *out = call->out;
    put_status(device, out);
    put_u32(out + RP_STATUS_READ_RESPONSE_RELAYS_COMMANDED, safety->relays_commanded);
    out[RP_STATUS_READ_RESPONSE_RESET_CAUSE] = device->reset_cause;
    out[RP_STATUS_READ_RESPONSE_FIRST_FAULT] = safety->first_fault;
    out[RP_STATUS_READ_RESPONSE_CAPTURE_STATE] = (uint8_t)device->sampler.capture.state;
    put_u16(out + RP_STATUS_READ_RESPONSE_HEARTBEAT_TIMEOUT_MS, armed ? safety->timeout_ms : 0);
    uint64_t age = armed ? device_now(device) - safety->fed_at : 0;
    put_u32(out + RP_STATUS_READ_RESPONSE_HEARTBEAT_AGE_MS, (uint32_t)(age / safety->ticks_per_ms));
    return RP_STATUS_READ_RESPONSE_SIZE;
}

static int refuse_boot_or_tripped(struct device *device, struct call *call)
{
    if (device->safety.state == STATE_BOOT)
        refuse(call, ERROR_BAD_STATE, STATE_BOOT);
    else if (device->safety.state == STATE_TRIPPED)
        refuse(call, ERROR_FAULT_LATCHED, device->safety.first_fault);
    return call->code;
}

int command_arm(struct device *device, struct call *call)
{
    struct safety *safety = &device->safety;
    if (refuse_boot_or_tripped(device, call))
        return 0;
    if (safety->state != STATE_SAFE)
        return refuse(call, ERROR_BAD_STATE, safety->state);
    if (get_u32(call->in + RP_ARM_REQUEST_MAGIC) != RP_ARM_REQUEST_MAGIC_MIN)
        return refuse(call, ERROR_BAD_VALUE, RP_ARM_REQUEST_MAGIC);
    uint16_t timeout_ms = get_u16(call->in + RP_ARM_REQUEST_TIMEOUT_MS);
    if (!timeout_in_range(device->settings, timeout_ms))
        return refuse(call, ERROR_BAD_VALUE, RP_ARM_REQUEST_TIMEOUT_MS);
    uint16_t open = safety_open_interlocks(safety);
    if (open != 0)
        return refuse(call, ERROR_INTERLOCK, open);
    if (safety->relays_commanded != 0 || port_relays_read() != 0)
        return refuse(call, ERROR_BUSY, 0);
    uint32_t token = safety_arm(safety, get_u32(call->in + RP_ARM_REQUEST_NONCE), timeout_ms, call->received);
    put_u32(call->out + RP_ARM_RESPONSE_ARM_TOKEN, token);
    return RP_ARM_RESPONSE_SIZE;
}

int command_safe_state(struct device *device, struct call *call)
{
    safety_off(&device->safety, device_now(device));
    return put_status(device, call->out);
}

int command_fault_read(struct device *device, struct call *call)
{
    const struct safety *safety = &device->safety;
    uint8_t *out = call->out;
    put_u32(out + RP_FAULT_READ_RESPONSE_LATCHED, safety->latched);
    put_u32(out + RP_FAULT_READ_RESPONSE_ACTIVE, safety_active(safety));
    out[RP_FAULT_READ_RESPONSE_FIRST_FAULT] = safety->first_fault;
    out[RP_FAULT_READ_RESPONSE_CHANNEL] = safety->fault_channel;
    put_u32(out + RP_FAULT_READ_RESPONSE_CODE, (uint32_t)safety->fault_code);
    put_u64(out + RP_FAULT_READ_RESPONSE_TICKS, safety->fault_ticks);
    put_u32(out + RP_FAULT_READ_RESPONSE_RELAYS, safety->fault_relays);
    return RP_FAULT_READ_RESPONSE_SIZE;
}

int command_fault_clear(struct device *device, struct call *call)
{
    if (device->safety.state == STATE_BOOT)
        return refuse(call, ERROR_BAD_STATE, STATE_BOOT);
    uint32_t bits = get_u32(call->in + RP_FAULT_CLEAR_REQUEST_BITS);
    put_u32(call->out + RP_FAULT_CLEAR_RESPONSE_LATCHED, safety_clear(&device->safety, bits, device_now(device)));
    return RP_FAULT_CLEAR_RESPONSE_SIZE;
}

int command_limit_set(struct device *device, struct call *call)
{
    if (refuse_boot_or_tripped(device, call))
        return 0;
    uint8_t channel = call->in[RP_LIMIT_SET_REQUEST_CHANNEL];
    uint8_t enable = call->in[RP_LIMIT_SET_REQUEST_ENABLE];
    int32_t low = get_i32(call->in + RP_LIMIT_SET_REQUEST_LOW_CODE);
    int32_t high = get_i32(call->in + RP_LIMIT_SET_REQUEST_HIGH_CODE);
    uint32_t delay_us = get_u32(call->in + RP_LIMIT_SET_REQUEST_DELAY_US);
    if (channel >= device->settings->channel_count)
        return refuse(call, ERROR_BAD_VALUE, RP_LIMIT_SET_REQUEST_CHANNEL);
    if (enable > 1)
        return refuse(call, ERROR_BAD_VALUE, RP_LIMIT_SET_REQUEST_ENABLE);
    if (low < CODE_MIN || low > CODE_MAX)
        return refuse(call, ERROR_BAD_VALUE, RP_LIMIT_SET_REQUEST_LOW_CODE);
    if (high < low || high > CODE_MAX)
        return refuse(call, ERROR_BAD_VALUE, RP_LIMIT_SET_REQUEST_HIGH_CODE);
    if (delay_us > RP_LIMIT_SET_REQUEST_DELAY_US_MAX)
        return refuse(call, ERROR_BAD_VALUE, RP_LIMIT_SET_REQUEST_DELAY_US);
    struct limit wanted = {.enabled = enable, .low = (int16_t)low, .high = (int16_t)high, .delay_us = delay_us};
    uint32_t in_force = limits_set(&device->limits, device->settings, channel, &wanted);
    uint8_t *out = call->out;
    out[RP_LIMIT_SET_RESPONSE_CHANNEL] = channel;
    out[RP_LIMIT_SET_RESPONSE_ENABLE] = enable;
    put_u32(out + RP_LIMIT_SET_RESPONSE_LOW_CODE, (uint32_t)low);
    put_u32(out + RP_LIMIT_SET_RESPONSE_HIGH_CODE, (uint32_t)high);
    put_u32(out + RP_LIMIT_SET_RESPONSE_DELAY_US, in_force);
    return RP_LIMIT_SET_RESPONSE_SIZE;
}

int command_relay_set(struct device *device, struct call *call)
{
    struct safety *safety = &device->safety;
    if (refuse_boot_or_tripped(device, call))
        return 0;
    uint32_t mask = get_u32(call->in + RP_RELAY_SET_REQUEST_MASK);
    uint8_t count = device->settings->relay_count;
    if (count < 32 && mask >> count != 0)
        return refuse(call, ERROR_BAD_VALUE, RP_RELAY_SET_REQUEST_MASK);
    if (!safety_armed_with(safety, get_u32(call->in + RP_RELAY_SET_REQUEST_ARM_TOKEN)))
        return refuse(call, ERROR_NOT_ARMED, 0);
    if (safety->state == STATE_ACTIVE && (mask & ~device->settings->hot_relays) != 0)
        return refuse(call, ERROR_BAD_STATE, STATE_ACTIVE);
    device->executions++;
    safety_relays(safety, mask, get_u32(call->in + RP_RELAY_SET_REQUEST_VALUE), device_now(device));
    put_u32(call->out + RP_RELAY_SET_RESPONSE_COMMANDED, safety->relays_commanded);
    put_u32(call->out + RP_RELAY_SET_RESPONSE_RELAYS, port_relays_read());
    put_u16(call->out + RP_RELAY_SET_RESPONSE_SETTLE_MS, device->settings->relay_settle_ms);
    return RP_RELAY_SET_RESPONSE_SIZE;
}

int command_load_enable_set(struct device *device, struct call *call)
{
    struct safety *safety = &device->safety;
    uint8_t on = call->in[RP_LOAD_ENABLE_SET_REQUEST_ON];
    if (on > 1)
        return refuse(call, ERROR_BAD_VALUE, RP_LOAD_ENABLE_SET_REQUEST_ON);
    if (on) {
        if (refuse_boot_or_tripped(device, call))
            return 0;
        if (!safety_armed_with(safety, get_u32(call->in + RP_LOAD_ENABLE_SET_REQUEST_ARM_TOKEN)))
            return refuse(call, ERROR_NOT_ARMED, 0);
        if (port_relays_read() != safety->relays_commanded)
            return refuse(call, ERROR_BUSY, 0);
    }
    device->executions++;
    safety_load(safety, on, device_now(device));
    return put_status(device, call->out);
}

int command_reset(struct device *device, struct call *call)
{
    struct safety *safety = &device->safety;
    if (safety->state == STATE_BOOT || safety_energised(safety))
        return refuse(call, ERROR_BAD_STATE, safety->state);
    if (get_u32(call->in + RP_RESET_REQUEST_MAGIC) != RP_RESET_REQUEST_MAGIC_MIN)
        return refuse(call, ERROR_BAD_VALUE, RP_RESET_REQUEST_MAGIC);
    device->reset_asked = true;
    return RP_RESET_RESPONSE_SIZE;
}

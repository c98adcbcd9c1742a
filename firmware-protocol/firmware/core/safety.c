#include "safety.h"

#include "port.h"

bool safety_energised(const struct safety *safety)
{
    return safety->state == STATE_ARMED || safety->state == STATE_ACTIVE;
}

static void move_to(struct safety *safety, enum state next, uint64_t now)
{
    enum state before = safety->state;
    if (before == next)
        return;
    safety->state = next;
    bool booted = before == STATE_BOOT;
    safety->listener.event(safety->listener.self, booted ? EVENT_BOOTED : EVENT_STATE_CHANGED,
            booted ? safety->boot_id : (uint32_t)before, now);
}

static void switch_load(struct safety *safety, bool on, uint64_t now)
{
    port_load_enable(on);
    if (on != safety->load_commanded) {
        safety->load_commanded = on;
        safety->listener.load_edge(safety->listener.self, now);
    }
}

static void command(struct safety *safety, uint32_t relays, uint64_t now)
{
    port_relays(relays);
    if (relays != safety->relays_commanded) {
        safety->relays_commanded = relays;
        safety->settling = true;
        safety->settled_at = now + (uint64_t)safety->settings->relay_settle_ms * safety->ticks_per_ms;
    }
}

/* Load-enable first, relays a little later: they do not break current. */
static void switch_off(struct safety *safety, uint64_t now)
{
    switch_load(safety, false, now);
    safety->token = 0;
    if (safety->relays_commanded != 0 && !safety->releasing) {
        safety->releasing = true;
        safety->release_at = now + (uint64_t)safety->settings->load_off_ms * safety->ticks_per_ms;
    }
}

void safety_boot(struct safety *safety, uint64_t now)
{
    safety->ticks_per_ms = safety->settings->tick_hz / 1000;
    safety->state = STATE_BOOT;
    safety->load_commanded = false;
    safety->relays_commanded = 0;
    safety->releasing = false;
    safety->settling = true;
    safety->settled_at = now + (uint64_t)safety->settings->relay_settle_ms * safety->ticks_per_ms;
    safety->latched = 0;
    safety->first_fault = FAULT_NONE;
    safety->fault_channel = FAULT_NONE;
    safety->token = 0;
    safety->boot_end = now + (uint64_t)safety->settings->boot_ms * safety->ticks_per_ms;
    port_load_enable(false);
    port_relays(0);
}

uint16_t safety_open_interlocks(const struct safety *safety)
{
    return (uint16_t)(safety->settings->interlock_mask & ~port_inputs());
}

static bool mismatch(const struct safety *safety)
{
    return !safety->settling && port_relays_read() != safety->relays_commanded;
}

uint32_t safety_active(const struct safety *safety)
{
    uint32_t active = port_faults();
    if (safety_open_interlocks(safety) != 0)
        active |= 1u << FAULT_INTERLOCK_OPEN;
    if (mismatch(safety))
        active |= 1u << FAULT_RELAY_MISMATCH;
    return active;
}

static void boot_done(struct safety *safety, uint64_t now)
{
    move_to(safety, safety->latched != 0 ? STATE_TRIPPED : STATE_SAFE, now);
}

void safety_tick(struct safety *safety, uint64_t now)
{
    if (safety->settling && now >= safety->settled_at)
        safety->settling = false;
    if (safety->releasing && now >= safety->release_at) {
        safety->releasing = false;
        command(safety, 0, now);
    }
    uint64_t timeout = (uint64_t)safety->timeout_ms * safety->ticks_per_ms;
    if (safety_energised(safety) && now - safety->fed_at >= timeout)
        safety_trip(safety, FAULT_HOST_SILENT, FAULT_NONE, 0, now);
    uint32_t active = safety_active(safety);
    if (!safety_energised(safety))
        active &= ~(1u << FAULT_INTERLOCK_OPEN);
    for (unsigned fault = 0; fault < FAULT_COUNT; fault++)
        if ((active & ~safety->latched) >> fault & 1)
            safety_trip(safety, (enum fault)fault, FAULT_NONE, 0, now);
    if (safety->state == STATE_BOOT && now >= safety->boot_end)
        boot_done(safety, now);
}

void safety_trip(struct safety *safety, enum fault fault, uint8_t channel, int32_t code, uint64_t now)
{
    bool known = safety->latched >> fault & 1;
    if (safety->latched == 0) {
        safety->first_fault = (uint8_t)fault;
        safety->fault_channel = channel;
        safety->fault_code = code;
        safety->fault_ticks = now;
        safety->fault_relays = port_relays_read();
    }
    safety->latched |= 1u << fault;
    switch_off(safety, now);
    if (safety->state != STATE_BOOT)
        move_to(safety, STATE_TRIPPED, now);
    if (!known)
        safety->listener.event(safety->listener.self, EVENT_TRIPPED, fault, now);
}

void safety_off(struct safety *safety, uint64_t now)
{
    switch_off(safety, now);
    if (safety_energised(safety))
        move_to(safety, STATE_SAFE, now);
}

uint32_t safety_arm(struct safety *safety, uint32_t nonce, uint16_t timeout_ms, uint64_t now)
{
    /* upper half: counts the arms, so that no token comes twice; lower half: hard to guess, depends on the nonce */
    uint32_t mixed = (safety->token_seed ^ nonce) * 2654435761u;
    safety->arms++;
    safety->token = ((safety->arms + (safety->token_seed >> 16)) & 0xFFFFu) << 16 | mixed >> 16;
    if (safety->token == 0)
        safety->token = 1;
    safety->timeout_ms = timeout_ms;
    safety->fed_at = now;
    move_to(safety, STATE_ARMED, now);
    return safety->token;
}

bool safety_armed_with(const struct safety *safety, uint32_t token)
{
    return safety_energised(safety) && token == safety->token;
}

bool safety_feed(struct safety *safety, uint32_t token, uint16_t timeout_ms, uint64_t now)
{
    if (!safety_armed_with(safety, token))
        return false;
    /* the delimiter may have come before ARM was carried out; time does not go back */
    if (now > safety->fed_at)
        safety->fed_at = now;
    if (timeout_ms != 0)
        safety->timeout_ms = timeout_ms;
    return true;
}

void safety_relays(struct safety *safety, uint32_t mask, uint32_t value, uint64_t now)
{
    command(safety, (safety->relays_commanded & ~mask) | (value & mask), now);
}

void safety_load(struct safety *safety, bool on, uint64_t now)
{
    if (!safety_energised(safety))
        on = false;
    switch_load(safety, on, now);
    if (safety_energised(safety))
        move_to(safety, on ? STATE_ACTIVE : STATE_ARMED, now);
}

uint32_t safety_clear(struct safety *safety, uint32_t faults, uint64_t now)
{
    safety->latched &= ~(faults & ~safety_active(safety));
    if (safety->latched == 0) {
        safety->first_fault = FAULT_NONE;
        safety->fault_channel = FAULT_NONE;
        safety->fault_code = 0;
        safety->fault_relays = 0;
        safety->fault_ticks = 0;
        if (safety->state == STATE_TRIPPED)
            move_to(safety, STATE_SAFE, now);
    }
    return safety->latched;
}

bool safety_outputs_off(void)
{
    return !port_load_enable_read() && port_relays_read() == 0;
}

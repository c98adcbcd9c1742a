/* Time from the machine's monotonic clock; the tick interrupt is called between two rounds of the main loop. */
#include <time.h>

#include "host.h"

static bool reset_asked;
static bool shown_load;

uint32_t port_ticks(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (uint32_t)((uint64_t)now.tv_sec * 1000000u + (uint64_t)now.tv_nsec / 1000u);
}

uint32_t port_lock(void) { return 0; }
void port_unlock(uint32_t before) { (void)before; }
void port_reset(void) { reset_asked = true; }

bool timer_reset_asked(void)
{
    bool asked = reset_asked;
    reset_asked = false;
    return asked;
}

void timer_run(void)
{
    static uint32_t last;
    uint32_t period = device.settings->limit_period_us;
    uint32_t behind = port_ticks() - last;
    if (behind < period)
        return;
    last += behind / period * period; /* ticks that were missed are not made up for: the clock is what counts */
    device_tick(&device);
    io_show(bench.load, bench_contacts(&bench));
}

void io_show(bool load, uint32_t contacts)
{
    (void)contacts;
    shown_load = load;
}

bool io_load(void) { return shown_load; }

/*
 * Time from the machine's monotonic clock; the tick interrupt is called between two rounds of the main loop.
 *
 * Once time was granted over the bench line, the clock stands still wherever it would run past the grant, and it never jumps:
 * what the process missed because the machine had no time for it did not happen. So a test's result cannot hang on how busy
 * the machine is.
 */
#include <time.h>

#include "host.h"

static bool reset_asked;
static bool shown_load;

/* The clock goes on by this much at most between two looks at it, once it is paced. */
#define LONGEST_STEP_US 2000u

static bool paced;
static uint64_t seen_us;  /* the machine's clock at the last look */
static uint64_t shown_us; /* this board's */
static uint64_t limit_us;

uint32_t port_ticks(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    uint64_t now_us = (uint64_t)now.tv_sec * 1000000u + (uint64_t)now.tv_nsec / 1000u;
    uint64_t step_us = now_us - seen_us;
    seen_us = now_us;
    if (paced && step_us > LONGEST_STEP_US)
        step_us = LONGEST_STEP_US;
    shown_us += step_us;
    if (paced && shown_us > limit_us)
        shown_us = limit_us;
    return (uint32_t)shown_us;
}

void timer_grant(uint32_t ticks)
{
    port_ticks();
    paced = true;
    limit_us = shown_us + ticks;
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
    bench_tick(&bench);
    io_show(bench.load, bench_contacts(&bench));
}

void io_show(bool load, uint32_t contacts)
{
    (void)contacts;
    shown_load = load;
}

bool io_load(void) { return shown_load; }

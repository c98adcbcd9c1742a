#include "window.h"

#include <stddef.h>
#include <string.h>

_Static_assert(offsetof(struct window, granted) == 0x38, "place of the grant");
_Static_assert(offsetof(struct window, level) == 0x40, "place of the levels");
_Static_assert(offsetof(struct window, output) == 0x100, "place of the outputs");
_Static_assert(offsetof(struct window, scan) == 0x10000, "place of the scans");

/* On one processor the order of volatile accesses is enough; on the host the other side is another processor. */
#ifdef __ARM_ARCH
#define FENCE() __asm volatile("dmb" : : : "memory")
#else
#define FENCE() __atomic_thread_fence(__ATOMIC_SEQ_CST)
#endif

bool window_used(const bench_window *window)
{
    return window != NULL && window->magic == WINDOW_MAGIC;
}

bool window_paced(const bench_window *window)
{
    return window_used(window) && window->paced != 0;
}

uint32_t window_grants(const bench_window *window, uint32_t now, uint32_t step)
{
    if (!window_paced(window))
        return step;
    int32_t left = (int32_t)(window->granted - now);
    if (left <= 0)
        return 0;
    return step < (uint32_t)left ? step : (uint32_t)left;
}

void window_start(bench_window *window)
{
    if (window == NULL)
        return;
    window->outputs = 0;
    window->job = (window->job + 1) & ~1u;
    window_time(window, 0);
    window_output(window, 0, 0, false);
    FENCE();
    window->starts++;
}

void window_time(bench_window *window, uint64_t now)
{
    if (window == NULL)
        return;
    FENCE();
    window->time_high = (uint32_t)(now >> 32);
    FENCE();
    window->time_low = (uint32_t)now;
    FENCE();
    window->time_again = (uint32_t)(now >> 32);
}

void window_output(bench_window *window, uint64_t at, uint32_t contacts, bool load)
{
    if (window == NULL)
        return;
    volatile struct window_output *output = &window->output[window->outputs % WINDOW_OUTPUTS];
    output->ticks_low = (uint32_t)at;
    output->ticks_high = (uint32_t)(at >> 32);
    output->contacts = contacts;
    output->load = load;
    FENCE();
    window->outputs++;
}

void window_scan_start(bench_window *window, uint64_t start, uint32_t period, uint32_t mask)
{
    if (window == NULL)
        return;
    window->period = period;
    window->mask = mask;
    window->start_low = (uint32_t)start;
    window->start_high = (uint32_t)(start >> 32);
    window->taken = 0;
    FENCE();
    window->job = (window->job + 1) | 1u;
}

void window_scan_stop(bench_window *window)
{
    if (window != NULL)
        window->job = (window->job + 1) & ~1u;
}

enum port_scan_result window_scan(bench_window *window, uint64_t at, int16_t codes[PORT_MAX_CHANNELS])
{
    uint64_t start = (uint64_t)window->start_high << 32 | window->start_low;
    uint64_t number = (at - start) / window->period;
    if (window->given_job != window->job || number >= window->given)
        return PORT_SCAN_LATER;
    FENCE();
    volatile const int16_t *scan = window->scan[number % WINDOW_SCANS];
    memset(codes, 0, sizeof codes[0] * PORT_MAX_CHANNELS);
    for (uint32_t mask = window->mask; mask != 0; mask &= mask - 1) {
        unsigned c = (unsigned)__builtin_ctz(mask);
        codes[c] = scan[c];
    }
    FENCE();
    window->taken = (uint32_t)number + 1;
    return PORT_SCAN_TAKEN;
}

void window_look(const bench_window *window, int16_t codes[PORT_MAX_CHANNELS])
{
    for (unsigned c = 0; c < PORT_MAX_CHANNELS; c++)
        codes[c] = window->level[c];
}

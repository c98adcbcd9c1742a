#include "mps2.h"

#include <stddef.h>

#define BOARD_MODEL "mps2-an385"
#include "../settings.h"

#define KEPT_MAGIC 0x4B455054u

struct device device;
struct bench bench;
struct kept kept BENCH_KEPT;

void *memset(void *to, int value, size_t count);
void *memcpy(void *to, const void *from, size_t count);

void *memset(void *to, int value, size_t count)
{
    volatile uint8_t *at = to; /* volatile: not to be made into a call of itself */
    while (count-- > 0)
        *at++ = (uint8_t)value;
    return to;
}

void *memcpy(void *to, const void *from, size_t count)
{
    volatile uint8_t *at = to;
    const uint8_t *source = from;
    while (count-- > 0)
        *at++ = *source++;
    return to;
}

static enum reset_cause reset_cause(void)
{
    enum reset_cause cause = RESET_POWER_ON;
    if (kept.magic == KEPT_MAGIC)
        cause = kept.cause <= RESET_UNKNOWN ? (enum reset_cause)kept.cause : RESET_UNKNOWN;
    else
        kept.seed = 0;
    kept.magic = KEPT_MAGIC;
    kept.cause = RESET_PIN; /* unless something better is known by then */
    kept.seed = kept.seed * 1664525u + 1013904223u + timer_jitter();
    return cause;
}

int main(void)
{
    port_lock(); /* interrupts are let in after reset, but there is nothing yet that they could work on */
    enum reset_cause cause = reset_cause();
    timer_start();
    bench_init(&bench, &device, WINDOW);
    device_init(&device, &board_settings, kept.seed, cause);
    uart_start();
    __asm volatile("cpsie i" : : : "memory");
    for (;;) {
        device_poll(&device);
        bench_poll(&bench);
        uart_pump();
        if (device_alive(&device))
            watchdog_feed();
        while (bench.hang) {
        }
        /* with the interrupts held, so that none comes between the question and the sleep; a pending one ends it */
        uint32_t before = port_lock();
        if (device_idle(&device) && bench_idle(&bench))
            __asm volatile("wfi");
        port_unlock(before);
    }
}

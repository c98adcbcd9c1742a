/* Time, the tick interrupt, lock, watchdog, reset, and the two lamps. */
#include "mps2.h"

#define TIMER0_CONTROL REGISTER(0x40000000u)
#define TIMER0_VALUE REGISTER(0x40000004u)
#define TIMER0_RELOAD REGISTER(0x40000008u)
#define TIMER0_CLEAR REGISTER(0x4000000Cu)
#define WATCHDOG_LOAD REGISTER(0x40008000u)
#define WATCHDOG_CONTROL REGISTER(0x40008008u)
#define WATCHDOG_CLEAR REGISTER(0x4000800Cu)
#define WATCHDOG_LOCK REGISTER(0x40008C00u)
#define WATCHDOG_UNLOCK 0x1ACCE551u

#define TICKS_PER_S 2000u
/* First the interrupt after this time, then as long again to the reset. */
#define WATCHDOG_MS 500u
/* The same while the bench paces: an emulator that was stopped for seconds is no program that hangs. */
#define WATCHDOG_PACED_MS 30000u

static uint32_t shown; /* the clock at its last reading */
static uint32_t held;  /* ticks that it stood still */

/* The counter, less the time that the bench did not grant: what an emulator missed because its machine was busy did not happen. */
uint32_t port_ticks(void)
{
    uint32_t before = port_lock();
    uint32_t step = COUNTER - held - shown;
    uint32_t granted = window_grants(WINDOW, shown - device.origin, step);
    held += step - granted;
    shown += granted;
    uint32_t now = shown;
    port_unlock(before);
    return now;
}

uint32_t port_lock(void)
{
    uint32_t before;
    __asm volatile("mrs %0, primask\n\tcpsid i" : "=r"(before) : : "memory");
    return before;
}

void port_unlock(uint32_t before)
{
    __asm volatile("msr primask, %0" : : "r"(before) : "memory");
}

void port_reset(void)
{
    kept.cause = RESET_COMMAND;
    __asm volatile("dsb" : : : "memory");
    RESET_CONTROL = RESET_REQUEST;
}

void timer_start(void)
{
    PRESCALE = CLOCK_HZ / 1000000u - 1;
    TIMER0_RELOAD = CLOCK_HZ / TICKS_PER_S - 1;
    TIMER0_VALUE = CLOCK_HZ / TICKS_PER_S - 1;
    TIMER0_CONTROL = 1u | 8u;
    NVIC_ENABLE = 1u << 8;
    WATCHDOG_LOCK = WATCHDOG_UNLOCK;
    WATCHDOG_LOAD = CLOCK_HZ / 1000u * WATCHDOG_MS;
    WATCHDOG_CONTROL = 1u | 2u;
}

void tick_handler(void)
{
    TIMER0_CLEAR = 1;
    device_tick(&device);
    bench_tick(&bench);
    io_show(bench.load, bench_contacts(&bench));
}

void watchdog_feed(void)
{
    static bool paced;
    if (window_paced(WINDOW) != paced) {
        paced = !paced;
        WATCHDOG_LOAD = CLOCK_HZ / 1000u * (paced ? WATCHDOG_PACED_MS : WATCHDOG_MS);
    }
    WATCHDOG_CLEAR = 1;
}

/* Not to be masked. The outputs go off here; the reset follows by itself. */
void watchdog_handler(void)
{
    LED0 = 0;
    kept.cause = RESET_WATCHDOG;
    for (;;) {
    }
}

/* Two outputs that the monitor of the emulator shows. */

void io_show(bool load, uint32_t contacts)
{
    LED0 = (load ? 1u : 0u) | (contacts != 0 ? 2u : 0u);
}

bool io_load(void)
{
    return LED0 & 1u;
}

/* What the execution time of a loop, seen with a fast counter, leaves to chance. */
uint32_t timer_jitter(void)
{
    uint32_t mixed = COUNTER;
    SYSTICK_RELOAD = 0xFFFFFF;
    SYSTICK_VALUE = 0;
    SYSTICK_CONTROL = 5;
    for (unsigned k = 0; k < 256; k++) {
        for (volatile unsigned j = 0; j < 20 + (mixed & 31); j++) {
        }
        mixed = (mixed ^ SYSTICK_VALUE) * 2654435761u;
        mixed ^= mixed >> 15;
    }
    SYSTICK_CONTROL = 0;
    return mixed;
}

/* Vector table and what comes before main. */
#include "mps2.h"

extern uint32_t data_source, data_start, data_end, bss_start, bss_end, stack_top;

static void halt(void)
{
    LED0 = 0; /* outputs off; the watchdog does the rest */
    for (;;) {
    }
}

void reset_handler(void)
{
    LED0 = 0;
    const uint32_t *from = &data_source;
    for (uint32_t *to = &data_start; to < &data_end;)
        *to++ = *from++;
    for (uint32_t *to = &bss_start; to < &bss_end;)
        *to++ = 0;
    main();
    halt();
}

typedef void handler(void);

struct vectors {
    uint32_t *stack;
    handler *at[15 + 32]; /* exception k + 1, then the interrupts */
};

#define EXCEPTION(k) [(k) - 1]
#define INTERRUPT(k) [15 + (k)]

__attribute__((section(".vectors"), used)) static const struct vectors vectors = {
    &stack_top,
    {
        EXCEPTION(1) = reset_handler,
        EXCEPTION(2) = watchdog_handler,
        EXCEPTION(3) = halt,
        EXCEPTION(4) = halt,
        EXCEPTION(5) = halt,
        EXCEPTION(6) = halt,
        EXCEPTION(11) = halt,
        EXCEPTION(12) = halt,
        EXCEPTION(14) = halt,
        EXCEPTION(15) = halt,
        INTERRUPT(0) = receive_line_handler,
        INTERRUPT(2) = receive_bench_handler,
        INTERRUPT(8) = tick_handler,
    },
};

/*
 * The reference firmware as a process, with the sanitizers it was built with:
 *
 *   board-host terminal [bench-terminal]
 *
 * Goes on without its host; ends when the bench terminal, or without one the only terminal, is hung up.
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#include "host.h"

#define BOARD_MODEL "host process"
#include "../settings.h"

struct device device;
struct bench bench;

static uint32_t seed(void)
{
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    return ((uint32_t)now.tv_sec * 2654435761u) ^ (uint32_t)now.tv_nsec ^ (uint32_t)getpid() << 16;
}

static void start(enum reset_cause cause)
{
    bench_init(&bench, &device);
    device_init(&device, &board_settings, seed(), cause);
}

int main(int argc, char **argv)
{
    if (argc < 2 || argc > 3) {
        fprintf(stderr, "usage: board-host terminal [bench-terminal]\n");
        return 2;
    }
    int line = uart_open(argv[1]);
    int bench_line = argc > 2 ? uart_open(argv[2]) : -1;
    start(RESET_POWER_ON);
    while (uart_pump(line, bench_line)) {
        timer_run();
        device_poll(&device);
        bench_poll(&bench);
        while (bench.hang)
            sleep(1);
        if (timer_reset_asked())
            start(RESET_COMMAND);
    }
    return 0;
}

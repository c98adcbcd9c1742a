/*
 * The reference firmware as a process, with the sanitizers it was built with:
 *
 *   board-host terminal [bench-terminal [window-file]]
 *
 * Goes on without its host; ends when the bench terminal, or without one the only terminal, is hung up.
 */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <time.h>
#include <unistd.h>

#include "host.h"

#define BOARD_MODEL "host process"
#include "../settings.h"

struct device device;
struct bench bench;

static bench_window *window;

static bench_window *map(const char *path)
{
    int fd = open(path, O_RDWR);
    void *memory = fd < 0 ? MAP_FAILED : mmap(NULL, sizeof(struct window), PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
    if (memory == MAP_FAILED) {
        perror(path);
        exit(2);
    }
    close(fd);
    return memory;
}

static uint32_t seed(void)
{
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    return ((uint32_t)now.tv_sec * 2654435761u) ^ (uint32_t)now.tv_nsec ^ (uint32_t)getpid() << 16;
}

static void start(enum reset_cause cause)
{
    bench_init(&bench, &device, window);
    device_init(&device, &board_settings, seed(), cause);
}

int main(int argc, char **argv)
{
    if (argc < 2 || argc > 4) {
        fprintf(stderr, "usage: board-host terminal [bench-terminal [window-file]]\n");
        return 2;
    }
    int line = uart_open(argv[1]);
    int bench_line = argc > 2 ? uart_open(argv[2]) : -1;
    if (argc > 3)
        window = map(argv[3]);
    start(RESET_POWER_ON);
    uint32_t grants = 0;
    while (uart_pump(line, bench_line)) {
        timer_run();
        device_poll(&device);
        bench_poll(&bench);
        if (bench.grants != grants) {
            grants = bench.grants;
            timer_grant(bench.granted);
        }
        while (bench.hang)
            sleep(1);
        if (timer_reset_asked())
            start(RESET_COMMAND);
    }
    return 0;
}

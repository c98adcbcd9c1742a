/* The two lines: terminals of this machine. */
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

#include "host.h"

int uart_open(const char *path)
{
    int fd = open(path, O_RDWR | O_NOCTTY | O_NONBLOCK);
    struct termios mode;
    if (fd < 0 || tcgetattr(fd, &mode) != 0) {
        perror(path);
        exit(2);
    }
    cfmakeraw(&mode);
    tcsetattr(fd, TCSANOW, &mode);
    return fd;
}

typedef void taker(uint8_t byte);
typedef size_t giver(uint8_t *out, size_t max);

static void line_take(uint8_t byte) { device_received(&device, byte); }
static size_t line_give(uint8_t *out, size_t max) { return device_transmit(&device, out, max); }
static void bench_take(uint8_t byte) { bench_received(&bench, byte); }
static size_t bench_give(uint8_t *out, size_t max) { return bench_transmit(&bench, out, max); }

/* Bytes taken from the core that the terminal would not have yet. */
struct rest {
    uint8_t bytes[512];
    size_t at;
    size_t end;
};

static bool pump(int fd, struct rest *rest, taker *take, giver *give)
{
    uint8_t bytes[512];
    ssize_t count = read(fd, bytes, sizeof bytes);
    if (count == 0 || (count < 0 && errno != EAGAIN))
        return false;
    for (ssize_t k = 0; k < count; k++)
        take(bytes[k]);
    for (;;) {
        if (rest->at == rest->end) {
            rest->at = 0;
            rest->end = give(rest->bytes, sizeof rest->bytes);
            if (rest->end == 0)
                return true;
        }
        ssize_t written = write(fd, rest->bytes + rest->at, rest->end - rest->at);
        if (written < 0)
            return errno == EAGAIN;
        rest->at += (size_t)written;
    }
}

bool uart_pump(int line, int bench_line)
{
    static struct rest rest[2];
    static bool unplugged;
    /* poll passes negative descriptors over */
    struct pollfd wait[2] = {{unplugged ? -1 : line, POLLIN, 0}, {bench_line, POLLIN, 0}};
    const struct timespec patience = {0, 200000};
    ppoll(wait, 2, &patience, NULL);
    if (!unplugged && !pump(line, &rest[0], line_take, line_give))
        unplugged = true;
    if (bench_line < 0)
        return !unplugged;
    return pump(bench_line, &rest[1], bench_take, bench_give);
}

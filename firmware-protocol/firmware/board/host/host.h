/* The board as a process: what its files share. */
#ifndef RP_HOST_H
#define RP_HOST_H

#include "../bench_io.h"

/* Opens a terminal for raw bytes, never waiting. */
int uart_open(const char *path);

/* Moves bytes in and out; false when the last line is gone: a board whose host was unplugged goes on. bench_line may be -1. */
bool uart_pump(int line, int bench_line);

/* Calls device_tick as often as has become due. */
void timer_run(void);

/* From now on the clock runs so far at most, until the next call. */
void timer_grant(uint32_t ticks);

/* Whether the firmware asked for a reset since the last call. */
bool timer_reset_asked(void);

#endif

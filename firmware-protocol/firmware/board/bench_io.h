/* What the emulated boards share, and the little in which they differ. */
#ifndef RP_BENCH_IO_H
#define RP_BENCH_IO_H

#include <stdbool.h>
#include <stdint.h>

#include "../core/device.h"
#include "bench.h"

#define STORE_RECORD 2048u

/* Memory that a reset leaves alone. */
#ifdef __ARM_ARCH
#define BENCH_KEPT __attribute__((section(".noinit")))
#else
#define BENCH_KEPT
#endif

extern struct device device;
extern struct bench bench;

/* Shows the outputs where they can be seen without asking the program; reads load-enable back from there. */
void io_show(bool load, uint32_t contacts);
bool io_load(void);

#endif

/* Outputs, inputs, converter and storage of the emulated boards: the bench line stands for all of them. */
#include "bench_io.h"

#include <stddef.h>

static uint8_t slots[2][STORE_RECORD + 16] BENCH_KEPT;

void port_load_enable(bool on)
{
    bench_load(&bench, on);
    io_show(on, bench_contacts(&bench));
}

bool port_load_enable_read(void)
{
    return io_load();
}

void port_relays(uint32_t energised)
{
    bench_relays(&bench, energised);
}

uint32_t port_relays_read(void)
{
    return bench_contacts(&bench);
}

uint16_t port_inputs(void)
{
    return bench.inputs;
}

uint32_t port_faults(void)
{
    return bench.faults;
}

void port_scan_start(uint64_t start, uint32_t period, uint32_t mask)
{
    bench_scan_start(&bench, start, period, mask);
}

void port_scan_stop(void)
{
    bench_scan_stop(&bench);
}

enum port_scan_result port_scan(uint64_t at, int16_t codes[PORT_MAX_CHANNELS])
{
    return bench_scan(&bench, at, codes);
}

void port_look(int16_t codes[PORT_MAX_CHANNELS])
{
    bench_look(&bench, codes);
}

void port_store_read(unsigned slot, size_t offset, void *into, size_t count)
{
    uint8_t *to = into;
    for (size_t k = 0; k < count; k++)
        to[k] = slots[slot][offset + k];
}

bool port_store_erase(unsigned slot)
{
    for (size_t k = 0; k < sizeof slots[slot]; k++)
        slots[slot][k] = 0xFF;
    return true;
}

bool port_store_write(unsigned slot, size_t offset, const void *from, size_t count)
{
    const uint8_t *bytes = from;
    for (size_t k = 0; k < count; k++)
        slots[slot][offset + k] = bytes[k];
    return true;
}

bool port_store_locked(void)
{
    return false;
}

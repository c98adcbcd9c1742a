/*
 * What the core wants of a board. Three files are enough: link (bytes in and out), timer (time, lock, reset), and io (outputs,
 * inputs, converter, storage). Nothing here may block.
 */
#ifndef RP_PORT_H
#define RP_PORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define PORT_MAX_CHANNELS 32

/* --- timer ---------------------------------------------------------------------------------------------------------------- */

/* A counter of settings.tick_hz that runs by itself and overflows after 32 bits. */
uint32_t port_ticks(void);

/* Keeps the timer interrupt out; gives back what port_unlock needs. May be nested. */
uint32_t port_lock(void);
void port_unlock(uint32_t before);

/* Starts the board anew as if power had returned. May come back: on a host it sets a mark for the main loop. */
void port_reset(void);

/* --- outputs and inputs --------------------------------------------------------------------------------------------------- */

void port_load_enable(bool on);
/* From the output, not from the command. */
bool port_load_enable_read(void);

void port_relays(uint32_t energised);
/* From the contacts. */
uint32_t port_relays_read(void);

/* Digital inputs, 1 is closed. */
uint16_t port_inputs(void);

/* Bits of the faults OVERTEMPERATURE, ADC_FAULT, BROWN_OUT, INTERNAL whose cause is there now. */
uint32_t port_faults(void);

/* --- converter ------------------------------------------------------------------------------------------------------------ */

enum port_scan_result { PORT_SCAN_LOST = -1, PORT_SCAN_LATER = 0, PORT_SCAN_TAKEN = 1 };

/* The converter begins to take scans of the channels of mask, the first at start, paced by hardware, into its own queue. */
void port_scan_start(uint64_t start, uint32_t period, uint32_t mask);
void port_scan_stop(void);

/* The scan of instant at, by channel index; asked for once that instant has passed. Called with the lock held. */
enum port_scan_result port_scan(uint64_t at, int16_t codes[PORT_MAX_CHANNELS]);

/* Momentary codes of all channels, beside the scans, for the limits. Called with the lock held. */
void port_look(int16_t codes[PORT_MAX_CHANNELS]);

/* --- storage -------------------------------------------------------------------------------------------------------------- */

/* Two slots of settings.store_bytes + 16 bytes each. Erased bytes are all the same, whatever they are. */
void port_store_read(unsigned slot, size_t offset, void *into, size_t count);
/* Both give false if the storage refuses. What is written was erased before. */
bool port_store_erase(unsigned slot);
bool port_store_write(unsigned slot, size_t offset, const void *from, size_t count);
/* The write-protect switch. */
bool port_store_locked(void);

#endif

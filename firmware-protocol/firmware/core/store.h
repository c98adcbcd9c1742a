/* One record in two slots: a loss of power at any instant leaves the old record or the new one. */
#ifndef RP_STORE_H
#define RP_STORE_H

#include <stdbool.h>
#include <stdint.h>

#define STORE_HEADER 16u

struct store {
    bool valid;
    uint8_t slot;
    uint16_t length;
    uint32_t generation;
    uint32_t crc;
};

/* Finds the record in force. */
void store_open(struct store *store, uint16_t capacity);

/* Whether the record in force still has its checksum; true without one. */
bool store_intact(const struct store *store);

/* Writes a record into the other slot and puts it in force if it reads back right. */
bool store_commit(struct store *store, uint16_t capacity, const uint8_t *bytes, uint16_t length);

#endif

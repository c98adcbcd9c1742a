/* CRC-32/ISO-HDLC. */
#ifndef RP_CRC32_H
#define RP_CRC32_H

#include <stddef.h>
#include <stdint.h>

#define CRC32_START 0xFFFFFFFFu

/* Goes on with bytes; begins with CRC32_START. */
uint32_t crc32_update(uint32_t state, const void *bytes, size_t count);

/* The checksum of what was taken in. */
static inline uint32_t crc32_end(uint32_t state)
{
    return ~state;
}

/* Checksum of one piece. */
static inline uint32_t crc32_of(const void *bytes, size_t count)
{
    return crc32_end(crc32_update(CRC32_START, bytes, count));
}

#endif

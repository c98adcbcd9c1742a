#include "crc32.h"

/* One nibble at a time: 64 bytes of table; entry k is the remainder of k, polynomial 0xEDB88320 (reflected). */
static const uint32_t nibble[16] = {
    0x00000000, 0x1DB71064, 0x3B6E20C8, 0x26D930AC, 0x76DC4190, 0x6B6B51F4, 0x4DB26158, 0x5005713C,
    0xEDB88320, 0xF00F9344, 0xD6D6A3E8, 0xCB61B38C, 0x9B64C2B0, 0x86D3D2D4, 0xA00AE278, 0xBDBDF21C,
};

uint32_t crc32_update(uint32_t state, const void *bytes, size_t count)
{
    const uint8_t *at = bytes;
    for (; count > 0; count--) {
        state ^= *at++;
        state = state >> 4 ^ nibble[state & 15];
        state = state >> 4 ^ nibble[state & 15];
    }
    return state;
}

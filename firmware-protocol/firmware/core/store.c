#include "store.h"

#include "bytes.h"
#include "crc32.h"
#include "port.h"

/* Header: magic u32, generation u32, data checksum u32, length u16, low half of the checksum over these 14 bytes. */
#define MAGIC 0x31524352u

static bool read_slot(unsigned slot, uint16_t capacity, struct store *found)
{
    uint8_t header[STORE_HEADER];
    port_store_read(slot, 0, header, sizeof header);
    uint16_t check = (uint16_t)crc32_of(header, STORE_HEADER - 2);
    if (get_u32(header) != MAGIC || get_u16(header + 14) != check)
        return false;
    found->valid = true;
    found->slot = (uint8_t)slot;
    found->generation = get_u32(header + 4);
    found->crc = get_u32(header + 8);
    found->length = get_u16(header + 12);
    return found->length > 0 && found->length <= capacity && store_intact(found);
}

bool store_intact(const struct store *store)
{
    if (!store->valid)
        return true;
    uint8_t piece[64];
    uint32_t crc = CRC32_START;
    for (size_t at = 0; at < store->length;) {
        size_t count = store->length - at < sizeof piece ? store->length - at : sizeof piece;
        port_store_read(store->slot, STORE_HEADER + at, piece, count);
        crc = crc32_update(crc, piece, count);
        at += count;
    }
    return crc32_end(crc) == store->crc;
}

void store_open(struct store *store, uint16_t capacity)
{
    struct store slot[2];
    bool good[2];
    for (unsigned k = 0; k < 2; k++)
        good[k] = capacity > 0 && read_slot(k, capacity, &slot[k]);
    store->valid = good[0] || good[1];
    if (good[0] && good[1]) /* the later one; generations may run over */
        *store = slot[(int32_t)(slot[1].generation - slot[0].generation) > 0];
    else if (store->valid)
        *store = slot[good[1]];
}

bool store_commit(struct store *store, uint16_t capacity, const uint8_t *bytes, uint16_t length)
{
    unsigned slot = store->valid ? 1u - store->slot : 0;
    uint32_t generation = store->valid ? store->generation + 1 : 1;
    /* the header last: without it the slot counts as empty */
    if (!port_store_erase(slot) || !port_store_write(slot, STORE_HEADER, bytes, length))
        return false;
    uint8_t header[STORE_HEADER];
    put_u32(header, MAGIC);
    put_u32(header + 4, generation == 0 ? 1 : generation);
    put_u32(header + 8, crc32_of(bytes, length));
    put_u16(header + 12, length);
    put_u16(header + 14, (uint16_t)crc32_of(header, STORE_HEADER - 2));
    if (!port_store_write(slot, 0, header, sizeof header))
        return false;
    struct store written;
    if (!read_slot(slot, capacity, &written) || written.crc != get_u32(header + 8))
        return false;
    *store = written;
    return true;
}

#include "link.h"

#include "port.h"

void link_received(struct link *link, uint8_t byte)
{
    uint32_t next = (link->rx_in + 1) % LINK_RX_SIZE;
    if (next == link->rx_out) {
        link->rx_overrun = true; /* the frame it belonged to fails its checksum */
        return;
    }
    if (byte == 0) {
        /* more delimiters than stamps: the oldest stamps stay, those without one count as just arrived */
        if (link->stamp_in - link->stamp_out < LINK_STAMPS) {
            link->stamp[link->stamp_in % LINK_STAMPS] = port_ticks();
            link->stamp_in++;
        }
    }
    link->rx[link->rx_in] = byte;
    link->rx_in = next;
}

static void count(struct link_counters *counters, enum frame_result result)
{
    switch (result) {
    case FRAME_OVERLONG:
        counters->overlong++;
        break;
    case FRAME_BAD_COBS:
        counters->cobs_errors++;
        break;
    case FRAME_BAD_CRC:
        counters->crc_errors++;
        break;
    default:
        counters->malformed++;
        break;
    }
}

enum frame_result link_next(struct link *link, struct frame *frame, uint32_t *stamp)
{
    while (link->rx_out != link->rx_in) {
        uint8_t byte = link->rx[link->rx_out];
        link->rx_out = (link->rx_out + 1) % LINK_RX_SIZE;
        if (byte == 0) {
            *stamp = port_ticks();
            if (link->stamp_out != link->stamp_in) {
                *stamp = link->stamp[link->stamp_out % LINK_STAMPS];
                link->stamp_out++;
            }
        }
        enum frame_result result = frame_receive(&link->receiver, byte, frame);
        if (result == FRAME_COMPLETE)
            return result;
        if (result != FRAME_NOTHING)
            count(&link->counters, result);
    }
    return FRAME_NOTHING;
}

static uint32_t tx_free(const struct link *link)
{
    return (link->tx_out + LINK_TX_SIZE - 1 - link->tx_in) % LINK_TX_SIZE;
}

bool link_has_room(const struct link *link, size_t payload)
{
    size_t raw = FRAME_HEADER + payload + FRAME_CRC;
    return tx_free(link) >= raw + raw / 254 + 2;
}

void link_send_raw(struct link *link, const uint8_t *raw, size_t length)
{
    size_t wire = frame_encode(raw, length, link->wire);
    uint32_t at = link->tx_in;
    for (size_t k = 0; k < wire; k++) {
        link->tx[at] = link->wire[k];
        at = (at + 1) % LINK_TX_SIZE;
    }
    link->tx_in = at;
    link->counters.tx_frames++;
}

size_t link_transmit(struct link *link, uint8_t *out, size_t max)
{
    size_t n = 0;
    while (n < max && link->tx_out != link->tx_in) {
        out[n++] = link->tx[link->tx_out];
        link->tx_out = (link->tx_out + 1) % LINK_TX_SIZE;
    }
    return n;
}

bool link_sending(const struct link *link)
{
    return link->tx_out != link->tx_in;
}

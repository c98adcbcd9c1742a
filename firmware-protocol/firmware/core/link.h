/* Bytes in, bytes out, and what was counted. The receive interrupt writes, the main loop reads, and the other way round. */
#ifndef RP_LINK_H
#define RP_LINK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "frame.h"

#define LINK_RX_SIZE 4096u
#define LINK_TX_SIZE 8192u
#define LINK_STAMPS 32u
/* Bytes that fit before any is handled. */
#define LINK_RX_WINDOW (LINK_RX_SIZE - 1u)

struct link_counters {
    uint32_t rx_frames;
    uint32_t tx_frames;
    uint32_t crc_errors;
    uint32_t cobs_errors;
    uint32_t overlong;
    uint32_t malformed;
    uint32_t repeats;
    uint32_t lost_events;
};

struct link {
    uint8_t rx[LINK_RX_SIZE];
    uint8_t tx[LINK_TX_SIZE];
    uint32_t stamp[LINK_STAMPS]; /* port_ticks at each delimiter */
    volatile uint32_t rx_in;
    volatile uint32_t rx_out;
    volatile uint32_t tx_in;
    volatile uint32_t tx_out;
    volatile uint32_t stamp_in;
    volatile uint32_t stamp_out;
    volatile bool rx_overrun;
    struct frame_receiver receiver;
    struct link_counters counters;
    uint8_t raw[FRAME_MAX_RAW];
    uint8_t wire[FRAME_MAX_ENCODED + 1];
};

/* A byte came. From the receive interrupt. */
void link_received(struct link *link, uint8_t byte);

/* Next frame, FRAME_NOTHING when the bytes are used up; noise is counted and passed over. */
enum frame_result link_next(struct link *link, struct frame *frame, uint32_t *stamp);

/* Whether a frame with a payload of this length can be sent now. */
bool link_has_room(const struct link *link, size_t payload);

/* Sends a frame as built; counts it. Only with room. */
void link_send_raw(struct link *link, const uint8_t *raw, size_t length);

/* Up to max bytes that are to be sent; their number. From the main loop or one interrupt. */
size_t link_transmit(struct link *link, uint8_t *out, size_t max);

/* Whether bytes are waiting to be sent. */
bool link_sending(const struct link *link);

#endif

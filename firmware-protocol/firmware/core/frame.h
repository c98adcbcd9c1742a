/* Frames: byte stuffing, checksum, header. Knows nothing of messages. */
#ifndef RP_FRAME_H
#define RP_FRAME_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define FRAME_MAX_PAYLOAD 1024u
#define FRAME_HEADER 8u
#define FRAME_CRC 4u
#define FRAME_MAX_RAW (FRAME_HEADER + FRAME_MAX_PAYLOAD + FRAME_CRC)
/* Longest encoding of a frame, without the delimiter. */
#define FRAME_MAX_ENCODED (FRAME_MAX_RAW + FRAME_MAX_RAW / 254u + 1u)

enum frame_kind { FRAME_REQUEST = 1, FRAME_RESPONSE, FRAME_ERROR, FRAME_EVENT, FRAME_DATA };

enum frame_flag { FRAME_RETRY = 1, FRAME_MORE = 2, FRAME_FAULT_LATCHED = 4, FRAME_OUTPUTS_SAFE = 8, FRAME_REJECT = 0x30 };

/* What became of a byte. */
enum frame_result {
    FRAME_NOTHING,
    FRAME_COMPLETE,
    FRAME_OVERLONG,
    FRAME_BAD_COBS,
    FRAME_SHORT,
    FRAME_BAD_CRC,
    FRAME_BAD_LENGTH,
    FRAME_BAD_VERSION,
    FRAME_BAD_KIND,
    FRAME_BAD_FLAGS
};

/* A frame; the payload lies in the receiver and is valid until its next byte. */
struct frame {
    uint8_t kind;
    uint8_t flags;
    uint16_t seq;
    uint16_t type;
    uint16_t length;
    const uint8_t *payload;
};

/* Takes bytes one at a time and undoes the stuffing at once: needs no more memory than one frame, whatever comes. */
struct frame_receiver {
    uint8_t raw[FRAME_MAX_ENCODED];
    uint16_t encoded;
    uint16_t decoded;
    uint8_t left;
    bool zero_due;
    bool overlong;
};

void frame_receiver_reset(struct frame_receiver *receiver);

enum frame_result frame_receive(struct frame_receiver *receiver, uint8_t byte, struct frame *frame);

/* Writes a frame before stuffing into raw (room for FRAME_MAX_RAW); the payload may lie there already. Returns its length. */
size_t frame_build(uint8_t *raw, const struct frame *frame);

/* Stuffs raw bytes and adds the delimiter; room for FRAME_MAX_ENCODED + 1. Returns the length on the wire. */
size_t frame_encode(const uint8_t *raw, size_t length, uint8_t *wire);

#endif

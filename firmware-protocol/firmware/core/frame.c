#include "frame.h"

#include <string.h>

#include "bytes.h"
#include "crc32.h"

#define LINK_VERSION 1u
#define FULL_BLOCK 0xFFu

void frame_receiver_reset(struct frame_receiver *receiver)
{
    receiver->encoded = 0;
    receiver->decoded = 0;
    receiver->left = 0;
    receiver->zero_due = false;
    receiver->overlong = false;
}

static enum frame_result check(const struct frame_receiver *receiver, struct frame *frame)
{
    const uint8_t *raw = receiver->raw;
    if (receiver->decoded < FRAME_HEADER + FRAME_CRC)
        return FRAME_SHORT;
    uint16_t body = (uint16_t)(receiver->decoded - FRAME_CRC);
    if (crc32_of(raw, body) != get_u32(raw + body))
        return FRAME_BAD_CRC;
    frame->length = get_u16(raw + 6);
    if (frame->length != body - FRAME_HEADER || frame->length > FRAME_MAX_PAYLOAD)
        return FRAME_BAD_LENGTH;
    if (raw[0] >> 4 != LINK_VERSION)
        return FRAME_BAD_VERSION;
    frame->kind = raw[0] & 0x0F;
    if (frame->kind < FRAME_REQUEST || frame->kind > FRAME_DATA)
        return FRAME_BAD_KIND;
    frame->flags = raw[1];
    if (frame->flags & FRAME_REJECT)
        return FRAME_BAD_FLAGS;
    frame->seq = get_u16(raw + 2);
    frame->type = get_u16(raw + 4);
    frame->payload = raw + FRAME_HEADER;
    return FRAME_COMPLETE;
}

static enum frame_result end_of_block(struct frame_receiver *receiver, struct frame *frame)
{
    enum frame_result result = FRAME_NOTHING;
    if (receiver->overlong)
        result = FRAME_OVERLONG;
    else if (receiver->left > 0)
        result = FRAME_BAD_COBS;
    else if (receiver->encoded > 0)
        result = check(receiver, frame);
    frame_receiver_reset(receiver);
    return result;
}

enum frame_result frame_receive(struct frame_receiver *receiver, uint8_t byte, struct frame *frame)
{
    if (byte == 0)
        return end_of_block(receiver, frame);
    if (receiver->overlong || receiver->encoded == FRAME_MAX_ENCODED) {
        receiver->overlong = true;
        return FRAME_NOTHING;
    }
    receiver->encoded++;
    if (receiver->left > 0) {
        receiver->left--;
        receiver->raw[receiver->decoded++] = byte;
        return FRAME_NOTHING;
    }
    /* a code: the zero that the block before stood for comes only now, because the last one stands for none */
    if (receiver->zero_due)
        receiver->raw[receiver->decoded++] = 0;
    receiver->zero_due = byte != FULL_BLOCK;
    receiver->left = (uint8_t)(byte - 1);
    return FRAME_NOTHING;
}

size_t frame_build(uint8_t *raw, const struct frame *frame)
{
    raw[0] = (uint8_t)(LINK_VERSION << 4 | frame->kind);
    raw[1] = frame->flags;
    put_u16(raw + 2, frame->seq);
    put_u16(raw + 4, frame->type);
    put_u16(raw + 6, frame->length);
    if (frame->payload != raw + FRAME_HEADER && frame->length > 0)
        memcpy(raw + FRAME_HEADER, frame->payload, frame->length);
    size_t body = FRAME_HEADER + frame->length;
    put_u32(raw + body, crc32_of(raw, body));
    return body + FRAME_CRC;
}

size_t frame_encode(const uint8_t *raw, size_t length, uint8_t *wire)
{
    size_t code_at = 0;
    size_t out = 1;
    for (size_t k = 0; k < length; k++) {
        if (raw[k] != 0)
            wire[out++] = raw[k];
        if (raw[k] == 0 || out - code_at == FULL_BLOCK) {
            wire[code_at] = (uint8_t)(out - code_at);
            code_at = out++;
        }
    }
    wire[code_at] = (uint8_t)(out - code_at);
    wire[out++] = 0;
    return out;
}

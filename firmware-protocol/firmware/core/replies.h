/* The last answers, so that a repeated request is answered again and not carried out again. */
#ifndef RP_REPLIES_H
#define RP_REPLIES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "frame.h"

#define REPLIES_DEPTH 4u

/* What makes two requests the same. */
struct request_key {
    uint16_t seq;
    uint16_t type;
    uint32_t payload_crc;
};

struct reply {
    struct request_key key;
    uint16_t length; /* 0: empty */
    uint8_t raw[FRAME_MAX_RAW];
};

struct replies {
    struct reply of[REPLIES_DEPTH];
    unsigned next;
};

struct request_key request_key(const struct frame *request);
bool same_key(const struct request_key *a, const struct request_key *b);

void replies_clear(struct replies *replies);
void replies_put(struct replies *replies, const struct request_key *key, const uint8_t *raw, size_t length);
const struct reply *replies_find(const struct replies *replies, const struct request_key *key);

#endif

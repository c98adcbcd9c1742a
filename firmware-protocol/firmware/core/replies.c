#include "replies.h"

#include <string.h>

#include "crc32.h"

struct request_key request_key(const struct frame *request)
{
    struct request_key key = {request->seq, request->type, crc32_of(request->payload, request->length)};
    return key;
}

bool same_key(const struct request_key *a, const struct request_key *b)
{
    return a->seq == b->seq && a->type == b->type && a->payload_crc == b->payload_crc;
}

void replies_clear(struct replies *replies)
{
    for (unsigned k = 0; k < REPLIES_DEPTH; k++)
        replies->of[k].length = 0;
    replies->next = 0;
}

void replies_put(struct replies *replies, const struct request_key *key, const uint8_t *raw, size_t length)
{
    struct reply *reply = &replies->of[replies->next];
    replies->next = (replies->next + 1) % REPLIES_DEPTH;
    reply->key = *key;
    reply->length = (uint16_t)length;
    memcpy(reply->raw, raw, length);
}

const struct reply *replies_find(const struct replies *replies, const struct request_key *key)
{
    for (unsigned k = 0; k < REPLIES_DEPTH; k++)
        if (replies->of[k].length > 0 && same_key(&replies->of[k].key, key))
            return &replies->of[k];
    return NULL;
}

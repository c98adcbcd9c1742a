/* Parts of the sampler in files of their own; for the sampler only. */
#ifndef RP_SAMPLER_JOBS_H
#define RP_SAMPLER_JOBS_H

#include "sampler.h"

uint16_t sampler_next_id(struct sampler *sampler);
void capture_restart(struct capture *capture, uint64_t start);
void capture_take(struct sampler *sampler, const int16_t *codes, uint64_t at);
void stream_put(struct sampler *sampler, const int16_t *codes, uint64_t at);
void stream_gap(struct sampler *sampler);

#endif

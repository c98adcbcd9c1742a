/* What fuzz.c and campaign.c have in common. */
#ifndef RP_FUZZ_H
#define RP_FUZZ_H

#include <stddef.h>
#include <stdint.h>

/* Frames, good and bad, that were given to the device so far: requests built, and delimiters among arbitrary bytes. */
extern uint64_t fuzz_frames;

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif

/* A board in memory with a clock that the test moves. */
#ifndef FAKE_BOARD_H
#define FAKE_BOARD_H

#include "../core/device.h"
#include "../core/port.h"

#define FAKE_CHANNELS 32
#define FAKE_BUFFER 8192
#define FAKE_STORE 1024

struct fake_board {
    uint64_t time_us; /* of the world; the counter is its low half */
    bool load_enable;
    uint32_t coils;
    uint32_t contacts;
    uint32_t stuck_mask;
    uint32_t stuck_value;
    uint64_t coils_moved_us;
    uint16_t inputs;
    uint32_t faults;
    int16_t level[FAKE_CHANNELS]; /* held at the inputs */
    bool ramp;                    /* channel c shows instant + c instead */
    unsigned lose_scans;          /* the next scans are lost */
    bool adc_late;                /* no scan ever comes */
    unsigned resets;
    bool store_locked;
    long writes_left; /* bytes until the power fails; -1 never */
    uint8_t slots[2][FAKE_STORE + 16];
    unsigned load_edges;
};

extern struct fake_board board;
extern struct device device;
extern struct settings fake_settings;

/* A fresh world at this time, the device in BOOT. The storage keeps its bytes. */
void fake_start(uint64_t time_us, uint32_t seed);

/* Lets time pass, with a timer interrupt every limit_period_us and polls between; what is sent is kept. */
void fake_run(uint64_t us);

/* What was sent since the last call, as frames. Returns the number. */
struct fake_frame {
    uint8_t kind;
    uint8_t flags;
    uint16_t seq;
    uint16_t type;
    uint16_t length;
    uint8_t payload[FRAME_MAX_PAYLOAD];
};
size_t fake_sent(struct fake_frame *into, size_t max);

/* Sends a request, polls, and gives the first answer to it; kind 0 if there is none. */
struct fake_frame fake_ask(uint8_t flags, uint16_t seq, uint16_t type, const void *payload, uint16_t length);

/* Puts a request into the receive buffer. */
void fake_request(uint8_t flags, uint16_t seq, uint16_t type, const void *payload, uint16_t length);

/* Good frames in a piece of wire. */
unsigned frames_in(struct frame_receiver *receiver, const uint8_t *wire, size_t length);

#endif

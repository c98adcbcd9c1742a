/* What each request does. For device.c. */
#ifndef RP_COMMANDS_H
#define RP_COMMANDS_H

#include "device.h"

enum error {
    ERROR_BAD_TYPE = 1,
    ERROR_BAD_LENGTH,
    ERROR_BAD_VALUE,
    ERROR_BAD_STATE,
    ERROR_BUSY,
    ERROR_NOT_ARMED,
    ERROR_FAULT_LATCHED,
    ERROR_LOCKED,
    ERROR_NO_DATA,
    ERROR_VERSION,
    ERROR_HARDWARE,
    ERROR_INTERLOCK
};

/* A request being carried out. */
struct call {
    const struct frame *request;
    const uint8_t *in;
    uint8_t *out;
    uint64_t received; /* when its delimiter came */
    uint16_t code;     /* error; 0 for none */
    uint16_t detail;
    bool later;        /* the answer comes by itself */
};

/* Returned by a handler: the length of the answer, or what refuse gives. */
int refuse(struct call *call, enum error code, uint32_t detail);

typedef int command(struct device *device, struct call *call);

/* The handler of a message, null if not known; *least becomes the shortest request; a slow one runs without the lock. */
command *command_of(const struct settings *settings, uint16_t type, uint16_t *least, bool *slow);

/* The answer to an average that has ended; a refusal if the converter failed. */
int average_answer(struct device *device, struct call *call);

/* The part of HEARTBEAT that every status has in common. */
int put_status(struct device *device, uint8_t *out);

#define COMMAND(name) int name(struct device *device, struct call *call)
COMMAND(command_identify);
COMMAND(command_capability_read);
COMMAND(command_channel_info_read);
COMMAND(command_ping);
COMMAND(command_heartbeat);
COMMAND(command_clock_read);
COMMAND(command_status_read);
COMMAND(command_counters_read);
COMMAND(command_arm);
COMMAND(command_safe_state);
COMMAND(command_fault_read);
COMMAND(command_fault_clear);
COMMAND(command_limit_set);
COMMAND(command_relay_set);
COMMAND(command_load_enable_set);
COMMAND(command_analog_read);
COMMAND(command_capture_configure);
COMMAND(command_capture_control);
COMMAND(command_capture_status);
COMMAND(command_capture_read);
COMMAND(command_stream_start);
COMMAND(command_stream_credit);
COMMAND(command_stream_stop);
COMMAND(command_cal_read);
COMMAND(command_cal_write);
COMMAND(command_cal_commit);
COMMAND(command_self_test);
COMMAND(command_reset);

#endif

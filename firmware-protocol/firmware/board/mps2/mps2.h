/* Registers of the machine mps2-an385 (Arm application note AN385) that are used here, and what the files share. */
#ifndef RP_MPS2_H
#define RP_MPS2_H

#include <stdbool.h>
#include <stdint.h>

#include "../bench_io.h"

#define REGISTER(address) (*(volatile uint32_t *)(address))

#define CLOCK_HZ 25000000u

#define LED0 REGISTER(0x40028000u)     /* bit 0 load-enable, bit 1 any contact */
#define COUNTER REGISTER(0x40028018u)  /* free running */
#define PRESCALE REGISTER(0x4002801Cu)

/* 16 MiB of memory outside the processor; the emulator can share it with a program beside it. */
#define WINDOW ((bench_window *)0x21000000u)

#define NVIC_ENABLE REGISTER(0xE000E100u)
#define SYSTICK_CONTROL REGISTER(0xE000E010u)
#define SYSTICK_RELOAD REGISTER(0xE000E014u)
#define SYSTICK_VALUE REGISTER(0xE000E018u)
#define RESET_CONTROL REGISTER(0xE000ED0Cu)
#define RESET_REQUEST 0x05FA0004u

/* Kept over a reset, lost with the power. */
struct kept {
    uint32_t magic;
    uint32_t cause;
    uint32_t seed;
};

extern struct kept kept;

void uart_start(void);
void uart_pump(void);
void timer_start(void);
void watchdog_feed(void);
uint32_t timer_jitter(void);

void receive_line_handler(void);
void receive_bench_handler(void);
void tick_handler(void);
void watchdog_handler(void);
void reset_handler(void);
int main(void);

#endif

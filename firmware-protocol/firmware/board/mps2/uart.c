/* Two serial lines: UART0 to the host, UART1 to the test bench. */
#include "mps2.h"

struct uart {
    volatile uint32_t data;
    volatile uint32_t state;
    volatile uint32_t control;
    volatile uint32_t interrupt;
    volatile uint32_t divider;
};

#define UART0 ((struct uart *)0x40004000u)
#define UART1 ((struct uart *)0x40005000u)

enum { TX_FULL = 1, RX_FULL = 2 };
enum { TX_ENABLE = 1, RX_ENABLE = 2, RX_INTERRUPT = 8 };
enum { RX_CLEAR = 2 };

static void start(struct uart *uart)
{
    uart->divider = CLOCK_HZ / 1000000u;
    uart->control = TX_ENABLE | RX_ENABLE | RX_INTERRUPT;
}

void uart_start(void)
{
    start(UART0);
    start(UART1);
    NVIC_ENABLE = 1u << 0 | 1u << 2;
}

/* The mark is cleared before the byte is read: the other way round the next byte's interrupt would get lost. */

void receive_line_handler(void)
{
    UART0->interrupt = RX_CLEAR;
    while (UART0->state & RX_FULL)
        device_received(&device, (uint8_t)UART0->data);
}

void receive_bench_handler(void)
{
    UART1->interrupt = RX_CLEAR;
    while (UART1->state & RX_FULL)
        bench_received(&bench, (uint8_t)UART1->data);
}

void uart_pump(void)
{
    uint8_t byte;
    while (!(UART0->state & TX_FULL) && device_transmit(&device, &byte, 1) == 1)
        UART0->data = byte;
    while (!(UART1->state & TX_FULL) && bench_transmit(&bench, &byte, 1) == 1)
        UART1->data = byte;
}

#include "config.h"

#include "line.h"

#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

/*
 * Double speed: 16 MHz / 8 / 17 = 117647 baud, 2.1 % over 115200; 11.0592 MHz / 8 / 12 = 115200 (ATmega328P datasheet,
 * examples of baud rates).
 */
#define UBRR_DOUBLE_SPEED ((F_CPU + 4 * LINE_BAUD) / (8 * LINE_BAUD) - 1)

/* Room for the bytes of 5 ms: a step of the sleeve's own estimate takes less. */
#define RECEIVED_SIZE 64
/* Room for a sample, its motion, and the longest answer, beside the reserve for two more samples. */
#define SENDING_SIZE 128

static volatile uint8_t received[RECEIVED_SIZE];
static volatile uint8_t received_head, received_tail;
static volatile uint8_t sending[SENDING_SIZE];
static volatile uint8_t sending_head, sending_tail;

void line_begin(void)
{
    UBRR0 = UBRR_DOUBLE_SPEED;
    UCSR0A = _BV(U2X0);
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(RXCIE0) | _BV(RXEN0) | _BV(TXEN0);
}

ISR(USART_RX_vect)
{
    uint8_t damaged = UCSR0A & _BV(FE0);
    uint8_t byte = UDR0;
    uint8_t next = (received_head + 1) % RECEIVED_SIZE;
    if (damaged || next == received_tail)
        return;
    received[received_head] = byte;
    received_head = next;
    wake_for(WAKE_HOST);
}

ISR(USART_UDRE_vect)
{
    uint8_t tail = sending_tail;
    UDR0 = sending[tail];
    tail = (tail + 1) % SENDING_SIZE;
    sending_tail = tail;
    if (tail == sending_head)
        UCSR0B &= ~_BV(UDRIE0);
}

bool line_get(uint8_t *byte)
{
    uint8_t tail = received_tail;
    if (tail == received_head)
        return false;
    *byte = received[tail];
    received_tail = (tail + 1) % RECEIVED_SIZE;
    return true;
}

uint8_t line_room(void) { return (uint8_t)(sending_tail - sending_head - 1) % SENDING_SIZE; }

void line_put(uint8_t byte)
{
    uint8_t head = sending_head;
    sending[head] = byte;
    sending_head = (head + 1) % SENDING_SIZE;
    /* The interrupt clears this bit of the same register, so this must not be interrupted. */
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { UCSR0B |= _BV(UDRIE0); }
}

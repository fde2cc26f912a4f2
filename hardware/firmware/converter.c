#include "config.h"

#include "converter.h"

#include "clock.h"
#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/delay.h>

static const uint8_t dout_mask[CELL_COUNT] = CELL_DOUT_MASKS;
static const uint8_t sck_mask[CELL_COUNT] = CELL_SCK_MASKS;

/* Written by the interrupt while a pin is watched; from the edge until the reading is taken it is not watched. */
static volatile uint32_t ready_micros[CELL_COUNT];
static volatile uint8_t ready;

ISR(PCINT1_vect)
{
    uint32_t now = clock_micros();
    uint8_t low = PCMSK1 & ~PINC;
    uint8_t i;
    for (i = 0; i < CELL_COUNT; i++) {
        if (low & dout_mask[i]) {
            ready_micros[i] = now;
            ready |= 1 << i;
            PCMSK1 &= ~dout_mask[i];
        }
    }
    wake_for(WAKE_CELLS);
}

/* Watches the pin from now on; a line that is low already counts as an edge now. */
static void watch(uint8_t i)
{
    const uint8_t mask = dout_mask[i];
    const uint8_t flags = SREG;
    cli();
    ready &= ~(1 << i);
    if (PINC & mask) {
        PCMSK1 |= mask;
    } else {
        ready_micros[i] = clock_micros();
        ready |= 1 << i;
        PCMSK1 &= ~mask;
    }
    SREG = flags;
}

void converter_begin(void)
{
    PCICR |= _BV(PCIE1);
    converter_start(ALL_CONVERTERS);
}

bool converter_ready(uint8_t i, uint32_t *micros)
{
    if (!(ready & (1 << i)))
        return false;
    *micros = ready_micros[i];
    return true;
}

bool converter_read(uint8_t i, wire_i24 *count)
{
    const uint8_t clock = sck_mask[i];
    const uint8_t data = dout_mask[i];
    uint8_t pulse, in, byte = 0;
    /* 24 bits, highest first, and one pulse more: selects channel A with gain 128 for the next reading. */
    for (pulse = 0; pulse < 25; pulse++) {
        /* Interrupts are off only while the clock is high, well under 1 µs; after 50 µs the converter might power down. */
        cli();
        PORTB |= clock;
        __builtin_avr_delay_cycles(4);
        in = PINC;
        PORTB &= ~clock;
        sei();
        if (pulse == 24)
            break;
        byte <<= 1;
        if (in & data)
            byte |= 1;
        if ((pulse & 7) == 7)
            count->byte[2 - (pulse >> 3)] = byte;
    }
    /* The 25th pulse sets the line high. */
    in = PINC;
    watch(i);
    return in & data;
}

void converter_start(uint8_t mask)
{
    uint8_t clocks = 0;
    uint8_t i;
    for (i = 0; i < CELL_COUNT; i++)
        if (mask & (1 << i))
            clocks |= sck_mask[i];
    PORTB |= clocks;
    _delay_us(CELL_POWER_DOWN_US);
    PORTB &= ~clocks;
    for (i = 0; i < CELL_COUNT; i++)
        if (mask & (1 << i))
            watch(i);
}

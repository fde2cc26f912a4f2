#include "config.h"

#include "clock.h"

#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

/*
 * One step is 64 clock cycles, 4 µs at 16 MHz; one overflow is 256 steps. At other clocks an overflow is no whole number
 * of microseconds: what is left is carried, in parts of a whole one, so that nothing is lost over hours.
 */
#define WHOLE (F_CPU / 3200UL)
_Static_assert(F_CPU % 3200UL == 0 && WHOLE < 32768UL, "the carry is counted in parts of a 3200th of the clock");
#define OVERFLOW_PARTS_ALL (64UL * 256UL * 625UL / 2UL)
#define OVERFLOW_MICROS (OVERFLOW_PARTS_ALL / WHOLE)
#define OVERFLOW_PARTS (OVERFLOW_PARTS_ALL % WHOLE)
/* A step in 1/256 of a microsecond is an overflow in whole ones, rounded down: time never steps back at an overflow. */

/* Of the latest overflow. It wraps as a 32-bit microsecond does. */
static volatile uint32_t micros;
#if OVERFLOW_PARTS
static uint16_t parts;
#endif

ISR(TIMER0_OVF_vect)
{
    micros += OVERFLOW_MICROS;
#if OVERFLOW_PARTS
    parts += OVERFLOW_PARTS;
    if (parts >= WHOLE) {
        parts -= WHOLE;
        micros++;
    }
#endif
    wake_for(WAKE_CLOCK);
}

void clock_begin(void)
{
    TCCR0A = _BV(WGM01) | _BV(WGM00); /* fast PWM, 0 to 255 */
    TCCR0B = _BV(CS01) | _BV(CS00);   /* clock / 64 */
    TIMSK0 = _BV(TOIE0);
}

uint32_t clock_micros(void)
{
    uint32_t since;
    uint8_t steps;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        since = micros;
        steps = TCNT0;
        /* An overflow that has happened, but whose interrupt has not run yet. */
        if ((TIFR0 & _BV(TOV0)) && steps < 255)
            since += OVERFLOW_MICROS;
    }
#if OVERFLOW_MICROS == 1024
    return since + ((uint16_t)steps << 2);
#else
    return since + (uint16_t)(((uint32_t)steps * OVERFLOW_MICROS) >> 8);
#endif
}

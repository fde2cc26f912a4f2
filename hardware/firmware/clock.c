#include "config.h"

#include "clock.h"

#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

/*
 * One step is 64 clock cycles, 4 µs at 16 MHz; one overflow is 256 steps. At other clock rates an overflow is not a whole
 * number of microseconds: the fraction is carried over, so that no time is lost over hours.
 */
#define WHOLE (F_CPU / 3200UL)
_Static_assert(F_CPU % 3200UL == 0 && WHOLE < 32768UL, "the carry is counted in parts of a 3200th of the clock");
#define OVERFLOW_PARTS_ALL (64UL * 256UL * 625UL / 2UL)
#define OVERFLOW_MICROS (OVERFLOW_PARTS_ALL / WHOLE)
#define OVERFLOW_PARTS (OVERFLOW_PARTS_ALL % WHOLE)
/* The time of a step, in 1/256 µs, equals that of an overflow in whole µs, rounded down: time never goes back at an overflow. */

/* Time of the latest overflow; wraps like a 32-bit microsecond counter. */
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
        /* The timer has overflowed, but the interrupt has not run yet. */
        if ((TIFR0 & _BV(TOV0)) && steps < 255)
            since += OVERFLOW_MICROS;
    }
#if OVERFLOW_MICROS == 1024
    return since + ((uint16_t)steps << 2);
#else
    return since + (uint16_t)(((uint32_t)steps * OVERFLOW_MICROS) >> 8);
#endif
}

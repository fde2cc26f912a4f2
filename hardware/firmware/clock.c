#include "clock.h"

#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

/* One overflow is 256 steps of 4 µs; shifted up, the count wraps exactly as a 32-bit microsecond does. */
static volatile uint32_t overflows;

ISR(TIMER0_OVF_vect)
{
    overflows++;
    wake_for(WAKE_CLOCK);
}

void clock_begin(void)
{
    TCCR0A = _BV(WGM01) | _BV(WGM00); /* fast PWM, 0 to 255 */
    TCCR0B = _BV(CS01) | _BV(CS00);   /* 16 MHz / 64 */
    TIMSK0 = _BV(TOIE0);
}

uint32_t clock_micros(void)
{
    uint32_t turns;
    uint8_t steps;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        turns = overflows;
        steps = TCNT0;
        /* An overflow that has happened, but whose interrupt has not run yet. */
        if ((TIFR0 & _BV(TOV0)) && steps < 255)
            turns++;
    }
    return (turns << 10) | ((uint16_t)steps << 2);
}

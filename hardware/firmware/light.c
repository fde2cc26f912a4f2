#include "light.h"

#include "pins.h"

#include <avr/io.h>

/* Timer0 (green, blue) belongs to the clock and runs already; Timer2 (red) is set up in the same way. */
void light_begin(void)
{
    TCCR2A = _BV(WGM21) | _BV(WGM20);
    TCCR2B = _BV(CS22); /* clock / 64; Timer2 numbers its prescalers in its own way */
}

/* Fast PWM leaves a short pulse at level 0, so the pin is disconnected from the timer there. At 255 it is always high. */
static void color(volatile uint8_t *control, uint8_t connect, volatile uint8_t *compare, uint8_t pin, uint8_t duty)
{
    if (duty == 0 || duty == 255) {
        if (duty)
            PORTD |= _BV(pin);
        else
            PORTD &= ~_BV(pin);
        *control &= ~connect;
    } else {
        *compare = duty;
        *control |= connect;
    }
}

void light_show(const uint8_t duty[LIGHT_COLORS])
{
    color(&TCCR2A, _BV(COM2B1), &OCR2B, PIN_LIGHT_RED_BIT, duty[LIGHT_RED]);
    color(&TCCR0A, _BV(COM0B1), &OCR0B, PIN_LIGHT_GREEN_BIT, duty[LIGHT_GREEN]);
    color(&TCCR0A, _BV(COM0A1), &OCR0A, PIN_LIGHT_BLUE_BIT, duty[LIGHT_BLUE]);
}

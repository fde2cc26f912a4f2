#include "config.h"

#include "sound.h"

#include "clock.h"

#include <avr/io.h>

static sound_body row;
static uint8_t beeps_left;
static bool is_on;
static uint32_t since;

/* Toggle on compare: frequency = clock / (2·N·(1 + OCR1A)) (ATmega328P datasheet, "Clear Timer on Compare Match"). */
static void tone_on(uint16_t frequency_hz)
{
    const bool slow = frequency_hz < 16;
    const uint32_t steps_per_sec = CHIP_CLOCK_HZ / (slow ? 256 : 8) / 2;
    OCR1A = (uint16_t)((steps_per_sec + frequency_hz / 2) / frequency_hz - 1);
    TCNT1 = 0;
    TCCR1A = _BV(COM1A0);
    TCCR1B = _BV(WGM12) | (slow ? _BV(CS12) : _BV(CS11));
}

/* The pin goes back to its port, which is low. */
static void tone_off(void)
{
    TCCR1A = 0;
    TCCR1B = 0;
}

void sound_stop(void)
{
    tone_off();
    is_on = false;
    beeps_left = 0;
}

void sound_play(const sound_body *sound)
{
    sound_stop();
    if (sound->frequency_hz == 0 || sound->on_ms == 0 || sound->repeats == 0)
        return;
    row = *sound;
    beeps_left = row.repeats;
    is_on = true;
    since = clock_micros();
    tone_on(row.frequency_hz);
}

void sound_poll(void)
{
    uint32_t lasts;
    if (beeps_left == 0)
        return;
    lasts = 1000UL * (is_on ? row.on_ms : row.off_ms);
    if (clock_micros() - since < lasts)
        return;
    /* From the planned moment on, so that a row keeps its time. */
    since += lasts;
    if (is_on) {
        beeps_left--;
        /* Without a pause between them beeps are one tone. */
        if (row.off_ms == 0 && beeps_left > 0)
            return;
        tone_off();
        is_on = false;
    } else {
        is_on = true;
        tone_on(row.frequency_hz);
    }
}

#include "config.h"

#include "sound.h"

#include "clock.h"

#include <avr/eeprom.h>
#include <avr/io.h>

static sound_body row;
static uint8_t beeps_left;
static bool is_on;
static uint32_t since;
static bool has_motor;
/* The motor ran, and may not have stopped yet. */
static bool shakes;
static uint32_t motor_off;

static void set_motor(bool on)
{
    if (on) {
        PORTB |= _BV(PIN_GRIP_MOTOR_BIT);
        shakes = true;
    } else if (PORTB & _BV(PIN_GRIP_MOTOR_BIT)) {
        PORTB &= ~_BV(PIN_GRIP_MOTOR_BIT);
        motor_off = clock_micros();
    }
}

/* Toggle on compare: frequency = clock / (2·N·(1 + OCR1A)) (ATmega328P datasheet, "Clear Timer on Compare Match"). */
static void tone_on(uint16_t frequency_hz)
{
    const bool slow = frequency_hz < 16;
    const uint32_t steps_per_sec = F_CPU / (slow ? 256 : 8) / 2;
    if (has_motor) {
        set_motor(true);
        return;
    }
    OCR1A = (uint16_t)((steps_per_sec + frequency_hz / 2) / frequency_hz - 1);
    TCNT1 = 0;
    TCCR1A = _BV(COM1A0);
    TCCR1B = _BV(WGM12) | (slow ? _BV(CS12) : _BV(CS11));
}

/* The pin is controlled by its port again, which is low. */
static void tone_off(void)
{
    TCCR1A = 0;
    TCCR1B = 0;
    set_motor(false);
}

void sound_begin(void) { has_motor = eeprom_read_byte((const uint8_t *)EEPROM_GRIP_MOTOR) == 1; }

bool sound_shakes(void)
{
    /* Between two beeps the motor does not come to rest either. */
    if (shakes && beeps_left == 0 && clock_micros() - motor_off >= MOTOR_REST)
        shakes = false;
    return shakes;
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
    /* From the planned time on, so that a series keeps its rhythm. */
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

#include "config.h"

#include "supply.h"

#include "clock.h"

#include <avr/eeprom.h>
#include <avr/io.h>

/* Readings of the reference with the supply as full scale: the lower the supply, the higher the reading. */
static uint16_t low_above, good_below;
static bool is_low;
static uint32_t measured;

void supply_begin(void)
{
    uint16_t reference = eeprom_read_word((const uint16_t *)EEPROM_BANDGAP);
    if (reference < BANDGAP_LEAST_MILLIVOLTS || reference > BANDGAP_MOST_MILLIVOLTS)
        reference = BANDGAP_MILLIVOLTS;
    low_above = 1024UL * reference / SUPPLY_LOW_MILLIVOLTS;
    good_below = 1024UL * reference / (SUPPLY_LOW_MILLIVOLTS + SUPPLY_MARGIN_MILLIVOLTS);
    /* Full scale AVCC, input 1.1 V (ATmega328P datasheet, "ADC Multiplexer Selection Register"); clock / 128. */
    ADMUX = _BV(REFS0) | _BV(MUX3) | _BV(MUX2) | _BV(MUX1);
    ADCSRA = _BV(ADEN) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
    measured = clock_micros();
}

void supply_poll(void)
{
    const uint32_t now = clock_micros();
    uint16_t level;
    /* The reference has settled long before the first turn. */
    if (now - measured < SUPPLY_PERIOD)
        return;
    measured = now;
    if (!(ADCSRA & _BV(ADSC))) {
        level = ADC;
        if (level > low_above)
            is_low = true;
        else if (level <= good_below)
            is_low = false;
        ADCSRA |= _BV(ADSC);
    }
}

bool supply_is_low(void) { return is_low; }

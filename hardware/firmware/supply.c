#include "config.h"

#include "supply.h"

#include "clock.h"

#include <avr/eeprom.h>
#include <avr/io.h>

/* Readings of the reference, with the supply as full scale: the lower the supply, the higher the reading. */
static uint16_t low_above, good_below;
static bool is_low, is_ending;
static uint32_t measured;

/* Full scale AVCC; input 1.1 V, or A3 (ATmega328P datasheet, "ADC Multiplexer Selection Register"). */
#define INPUT_REFERENCE (_BV(REFS0) | _BV(MUX3) | _BV(MUX2) | _BV(MUX1))
#define INPUT_CELL (_BV(REFS0) | PIN_BATTERY_CELL_BIT)
/* The battery's cell is read once in this many readings. The reading after a change of input is dropped: it may not have settled. */
#define CELL_EACH 64
static uint16_t trimmed;
/* Sums of 64 readings; 0: none yet. */
static uint16_t reference_sum, cell_sum;
static uint8_t turn;

static void add(uint16_t *sum, uint16_t level) { *sum = *sum ? *sum - (*sum >> 6) + level : level << 6; }

void supply_begin(void)
{
    uint16_t reference = eeprom_read_word((const uint16_t *)EEPROM_BANDGAP);
    if (reference < BANDGAP_LEAST_MILLIVOLTS || reference > BANDGAP_MOST_MILLIVOLTS)
        reference = BANDGAP_MILLIVOLTS;
    trimmed = reference;
    low_above = 1024UL * reference / SUPPLY_LOW_MILLIVOLTS;
    good_below = 1024UL * reference / (SUPPLY_LOW_MILLIVOLTS + SUPPLY_MARGIN_MILLIVOLTS);
    ADMUX = INPUT_REFERENCE;
    DIDR0 = _BV(PIN_BATTERY_CELL_BIT);
    /* Clock / 128. */
    ADCSRA = _BV(ADEN) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
    measured = clock_micros();
}

static void watch_cell(void)
{
    const uint16_t millivolts = supply_cell_millivolts();
    if (millivolts < CELL_LEAST_MILLIVOLTS || millivolts > CELL_ENDING_MILLIVOLTS + CELL_CHARGED_MILLIVOLTS)
        is_ending = false;
    else if (millivolts <= CELL_ENDING_MILLIVOLTS)
        is_ending = true;
}

void supply_poll(void)
{
    const uint32_t now = clock_micros();
    uint16_t level;
    /* The reference has settled long before the first reading. */
    if (now - measured < SUPPLY_PERIOD)
        return;
    measured = now;
    if (ADCSRA & _BV(ADSC))
        return;
    level = ADC;
    if (turn == CELL_EACH + 1) {
        add(&cell_sum, level);
        watch_cell();
        ADMUX = INPUT_REFERENCE;
        turn = 0;
    } else if (turn == CELL_EACH) {
        turn++;
    } else {
        if (turn > 0) {
            add(&reference_sum, level);
            if (level > low_above)
                is_low = true;
            else if (level <= good_below)
                is_low = false;
        }
        if (++turn == CELL_EACH)
            ADMUX = INPUT_CELL;
    }
    ADCSRA |= _BV(ADSC);
}

bool supply_is_low(void) { return is_low; }

bool supply_is_ending(void) { return is_ending; }

uint16_t supply_cell_millivolts(void)
{
    return cell_sum && reference_sum ? (uint32_t)trimmed * cell_sum / reference_sum : 0;
}

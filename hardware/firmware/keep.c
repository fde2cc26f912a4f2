#include "keep.h"

#include <avr/eeprom.h>
#include <avr/io.h>
#include <string.h>

static uint8_t row[KEEP_MOST];
static uint16_t next_address;
static uint8_t left, at;

bool keep_is_busy(void) { return left > 0 || !keep_can_read(); }

bool keep_can_read(void) { return !(EECR & _BV(EEPE)); }

bool keep_write(uint16_t address, const void *bytes, uint8_t count)
{
    if (keep_is_busy())
        return false;
    memcpy(row, bytes, count);
    next_address = address;
    left = count;
    at = 0;
    return true;
}

bool keep_fill(uint16_t address, uint8_t byte, uint8_t count)
{
    if (keep_is_busy())
        return false;
    memset(row, byte, count);
    next_address = address;
    left = count;
    at = 0;
    return true;
}

void keep_read(uint16_t address, void *bytes, uint8_t count)
{
    eeprom_read_block(bytes, (const void *)address, count);
}

void keep_poll(void)
{
    if (left == 0 || !keep_can_read())
        return;
    if (eeprom_read_byte((const uint8_t *)next_address) != row[at])
        eeprom_write_byte((uint8_t *)next_address, row[at]);
    next_address++;
    at++;
    left--;
}

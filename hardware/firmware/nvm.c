#include "nvm.h"

#include <avr/eeprom.h>
#include <avr/io.h>
#include <string.h>

static uint8_t row[NVM_MOST];
static uint16_t next_address;
static uint8_t left, at;

bool nvm_is_busy(void) { return left > 0 || !nvm_can_read(); }

bool nvm_can_read(void) { return !(EECR & _BV(EEPE)); }

bool nvm_write(uint16_t address, const void *bytes, uint8_t count)
{
    if (nvm_is_busy())
        return false;
    memcpy(row, bytes, count);
    next_address = address;
    left = count;
    at = 0;
    return true;
}

bool nvm_fill(uint16_t address, uint8_t byte, uint8_t count)
{
    if (nvm_is_busy())
        return false;
    memset(row, byte, count);
    next_address = address;
    left = count;
    at = 0;
    return true;
}

void nvm_read(uint16_t address, void *bytes, uint8_t count)
{
    eeprom_read_block(bytes, (const void *)address, count);
}

void nvm_poll(void)
{
    if (left == 0 || !nvm_can_read())
        return;
    if (eeprom_read_byte((const uint8_t *)next_address) != row[at])
        eeprom_write_byte((uint8_t *)next_address, row[at]);
    next_address++;
    at++;
    left--;
}

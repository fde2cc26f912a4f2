/*
 * Bytes that keep their value over a reset (EEPROM). Writing takes the chip 3.4 ms a byte (ATmega328P datasheet, "EEPROM Programming
 * Time"), so bytes wait here and are written one by one while everything else continues.
 */
#ifndef EBBLINE_NVM_H
#define EBBLINE_NVM_H

#include <stdbool.h>
#include <stdint.h>

#define NVM_MOST 32

/* False while earlier bytes are still being written: try again later. Bytes that are the same already are not written. */
bool nvm_write(uint16_t address, const void *bytes, uint8_t count);
/* Writes the same byte `count` times. */
bool nvm_fill(uint16_t address, uint8_t byte, uint8_t count);
bool nvm_is_busy(void);

/* False while a byte is being written: nothing can be read then. */
bool nvm_can_read(void);
void nvm_read(uint16_t address, void *bytes, uint8_t count);

/* To be called often. */
void nvm_poll(void);

#endif

/*
 * Bytes that outlive a reset. Writing takes the chip 3.4 ms a byte (ATmega328P datasheet, "EEPROM Programming Time"), so a
 * row of them waits here and goes out one by one while everything else goes on.
 */
#ifndef EBBLINE_NVM_H
#define EBBLINE_NVM_H

#include <stdbool.h>
#include <stdint.h>

#define NVM_MOST 32

/* False while an earlier row is still going out: try again later. Bytes that stand there already are not written. */
bool nvm_write(uint16_t address, const void *bytes, uint8_t count);
/* The same byte over and over. */
bool nvm_fill(uint16_t address, uint8_t byte, uint8_t count);
bool nvm_is_busy(void);

/* False while a byte goes out: nothing can be read then. */
bool nvm_can_read(void);
void nvm_read(uint16_t address, void *bytes, uint8_t count);

/* To be called often. */
void nvm_poll(void);

#endif

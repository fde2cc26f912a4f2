/*
 * Bytes that outlive a reset. Writing takes the chip 3.4 ms a byte (ATmega328P datasheet, "EEPROM Programming Time"), so a
 * row of them waits here and goes out one by one while everything else goes on.
 */
#ifndef EBBLINE_KEEP_H
#define EBBLINE_KEEP_H

#include <stdbool.h>
#include <stdint.h>

#define KEEP_MOST 32

/* False while an earlier row is still going out: try again later. Bytes that stand there already are not written. */
bool keep_write(uint16_t address, const void *bytes, uint8_t count);
/* The same byte over and over. */
bool keep_fill(uint16_t address, uint8_t byte, uint8_t count);
bool keep_is_busy(void);

/* False while a byte goes out: nothing can be read then. */
bool keep_can_read(void);
void keep_read(uint16_t address, void *bytes, uint8_t count);

/* To be called often. */
void keep_poll(void);

#endif

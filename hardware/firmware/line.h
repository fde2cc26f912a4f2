/* The serial line: bytes in and out through queues, moved by interrupts; no call waits. */
#ifndef EBBLINE_LINE_H
#define EBBLINE_LINE_H

#include <stdbool.h>
#include <stdint.h>

void line_begin(void);

/* Takes the oldest received byte into *byte; false if there is none. Bytes that come too fast are lost. */
bool line_get(uint8_t *byte);

/* How many bytes can be put now. */
uint8_t line_room(void);

/* Queues a byte; the caller makes sure that there is room. */
void line_put(uint8_t byte);

#endif

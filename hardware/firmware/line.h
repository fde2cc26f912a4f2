/* The serial line: bytes in and out through queues, moved by interrupts; nothing here ever waits. */
#ifndef EBBLINE_LINE_H
#define EBBLINE_LINE_H

#include <stdbool.h>
#include <stdint.h>

void line_begin(void);

/* Takes the oldest byte received into *byte; false when there is none. Bytes that came too fast are lost. */
bool line_get(uint8_t *byte);

/* How many bytes can be put now. */
uint8_t line_room(void);

/* Puts a byte; the caller has seen to it that there is room. */
void line_put(uint8_t byte);

#endif

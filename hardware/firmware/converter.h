/*
 * The wires of the three converters (HX711 and its like): when each became ready, its bits, its power.
 * Numbers in comments are from the HX711 datasheet, "Serial Interface" (table of T1 to T4) and "Reset and Power-Down".
 */
#ifndef EBBLINE_CONVERTER_H
#define EBBLINE_CONVERTER_H

#include "messages.h"
#include "pins.h"

#include <stdbool.h>
#include <stdint.h>

/* A bit for each of them. */
#define ALL_CONVERTERS ((1 << CELL_COUNT) - 1)

void converter_begin(void);

/* Whether a reading is ready, and when it became so. */
bool converter_ready(uint8_t i, uint32_t *micros);

/* Takes the reading that is ready. False when what came cannot be one: the line is shorted. */
bool converter_read(uint8_t i, wire_i24 *count);

/* Powers those in `mask` down and up: they start in step with each other, and are ready after four periods. */
void converter_start(uint8_t mask);

#endif

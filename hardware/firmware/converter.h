/*
 * The wires of the three converters (HX711 and compatible): time of readings, their bits, power.
 * Numbers in comments are from the HX711 datasheet, "Serial Interface" (table of T1 to T4) and "Reset and Power-Down".
 */
#ifndef EBBLINE_CONVERTER_H
#define EBBLINE_CONVERTER_H

#include "messages.h"
#include "pins.h"

#include <stdbool.h>
#include <stdint.h>

/* A bit for each converter. */
#define ALL_CONVERTERS ((1 << CELL_COUNT) - 1)

void converter_begin(void);

/* Whether a reading is ready, and since when. */
bool converter_ready(uint8_t i, uint32_t *micros);

/* Takes a ready reading. False if it cannot be valid: the line is shorted. */
bool converter_read(uint8_t i, wire_i24 *count);

/* Powers those in `mask` down and up: they start at the same time, and are ready after four periods. */
void converter_start(uint8_t mask);

#endif

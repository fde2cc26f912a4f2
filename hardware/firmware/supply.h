/* The supply and the battery's cell, measured by the chip itself against its own reference. */
#ifndef EBBLINE_SUPPLY_H
#define EBBLINE_SUPPLY_H

#include <stdbool.h>
#include <stdint.h>

void supply_begin(void);

/* Measures from time to time; to be called often. */
void supply_poll(void);

bool supply_is_low(void);

/* True if the battery lasts for half an hour at most. */
bool supply_is_ending(void);

/* Voltage of the battery's cell, mean of some 40 s; 0 before the first reading. */
uint16_t supply_cell_millivolts(void);

#endif

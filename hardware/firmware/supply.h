/* The supply and the battery's cell, measured by the chip itself against its own reference. */
#ifndef EBBLINE_SUPPLY_H
#define EBBLINE_SUPPLY_H

#include <stdbool.h>
#include <stdint.h>

void supply_begin(void);

/* Measures now and then; to be called often. */
void supply_poll(void);

bool supply_is_low(void);

/* The battery's cell lasts for half an hour at most. */
bool supply_is_ending(void);

/* Of the battery's cell, mean of some 40 s; 0 before the first reading. */
uint16_t supply_cell_millivolts(void);

#endif

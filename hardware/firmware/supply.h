/* The supply, measured by the chip itself against its own reference. */
#ifndef EBBLINE_SUPPLY_H
#define EBBLINE_SUPPLY_H

#include <stdbool.h>

void supply_begin(void);

/* Measures now and then; to be called often. */
void supply_poll(void);

bool supply_is_low(void);

#endif

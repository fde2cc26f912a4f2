/*
 * The three load cells: readings made at the same moment become one reading of the three. Nothing is waited for;
 * a converter that is silent, or out of step with the others, costs them nothing.
 */
#ifndef EBBLINE_CELLS_H
#define EBBLINE_CELLS_H

#include "messages.h"
#include "pins.h"

#include <stdbool.h>

struct cells_reading {
    /* When the last of them became ready. */
    uint32_t micros;
    wire_i24 counts[CELL_COUNT];
    /* A bit for each cell whose count must not be used: not ready with the others, or at the end of its range. */
    uint8_t faults;
};

void cells_begin(void);

/* Reads whatever is ready; true when a reading of the three is complete and in *reading. */
bool cells_poll(struct cells_reading *reading);

#endif

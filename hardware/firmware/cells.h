/*
 * The three load cells: readings made at the same time are joined. Nothing waits:
 * a converter that is silent, or out of step with the others, does not delay them.
 */
#ifndef EBBLINE_CELLS_H
#define EBBLINE_CELLS_H

#include "messages.h"
#include "pins.h"

#include <stdbool.h>

struct cells_reading {
    /* Time of the last of them. */
    uint32_t micros;
    wire_i24 counts[CELL_COUNT];
    /* A bit for each cell whose count must not be used: no reading at that time, or at the end of its range. */
    uint8_t faults;
};

void cells_begin(void);

/* Takes new readings; true if a reading of the three is complete and in *reading. */
bool cells_poll(struct cells_reading *reading);

#endif

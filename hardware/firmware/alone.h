/*
 * The sleeve guides by itself while no host does: only where an owner has turned it on, with the calibration and the pace
 * that he has sent and whose checksum holds.
 *
 *   off ── ALONE_ORDER 1, what is kept is whole ──> watching ── host's heartbeats end ──> guiding
 *    ^                                               │  ^                                  │
 *    └──────────── ALONE_ORDER 0, or refused ────────┘  └──────── host says it guides ─────┘
 *
 * The estimate runs in both, so that a cue that stands goes on over a change of hands and none is told twice.
 */
#ifndef EBBLINE_ALONE_H
#define EBBLINE_ALONE_H

#include "cells.h"
#include "messages.h"

#include <stdbool.h>

void alone_begin(void);

/* One reading of the cells, about 80 a second. */
void alone_reading(const struct cells_reading *reading);

/* To be called often. */
void alone_poll(void);

void alone_put(const alone_put_body *put);
void alone_order(const alone_order_body *order);
/* False while it cannot be read. */
bool alone_get(const alone_get_body *get, alone_part_body *part);
void alone_state(alone_state_body *state);

#endif

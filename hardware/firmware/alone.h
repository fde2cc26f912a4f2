/*
 * The sleeve guides by itself while no host does: only if an owner has turned it on, with the calibration and pace
 * that the owner has sent and whose checksum is right.
 *
 *   off ── ALONE_ORDER 1, what is kept is whole ──> watching ── host's heartbeats end ──> guiding
 *    ^                                               │  ^                                  │
 *    └──────────── ALONE_ORDER 0, or refused ────────┘  └──────── host says it guides ─────┘
 *
 * The estimate runs in both states, so that an active cue continues when guidance changes hands, and none is shown twice.
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
/* False while the EEPROM cannot be read. */
bool alone_get(const alone_get_body *get, alone_part_body *part);
void alone_state(alone_state_body *state);

#endif

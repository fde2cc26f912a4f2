/*
 * The latest feeds, minute by minute, as the sleeve itself estimated them; stored while they run, so that removing the
 * battery costs a minute at most. The oldest is overwritten first.
 */
#ifndef EBBLINE_ALONE_FEEDS_H
#define EBBLINE_ALONE_FEEDS_H

#include "alone_pace.h"

#define FEED_COUNT 10
#define FEED_BYTES 54
#define FEED_MINUTES 46

void feeds_begin(void);
/* After each step of the estimate. */
void feeds_step(const struct alone_estimate *e, const struct alone_pace *pace, bool is_guided);
/* To be called while nothing else is being written. */
void feeds_poll(void);
uint8_t feeds_kept(void);
/* The feeds were fetched by the host: forget them. */
void feeds_forget(void);

#endif

/*
 * What the host says: ordinary Firmata messages (protocol 2.5) and the sleeve's own (sleeve contract, section 2).
 * Whatever makes no sense is passed over. Answers are remembered rather than queued, so that asking often, or garbage,
 * never takes the room that samples need.
 */
#ifndef EBBLINE_HOST_H
#define EBBLINE_HOST_H

#include <stdbool.h>

/* After a reset the sleeve says by itself who it is. */
void host_begin(void);

/* Takes what has come, and answers as far as there is room. */
void host_poll(void);

/* The button changed; it is told if the host wants to know. */
void host_button_changed(void);

/* The host wants samples. */
bool host_wants_samples(void);

#endif

/*
 * Messages from the host: ordinary Firmata messages (protocol 2.5) and the sleeve's own (sleeve contract, section 2).
 * Invalid bytes are ignored. Answers are marked as due rather than queued, so that frequent requests, or garbage,
 * never take the room that samples need.
 */
#ifndef EBBLINE_HOST_H
#define EBBLINE_HOST_H

#include <stdbool.h>

/* After a reset the sleeve sends its identity without being asked. */
void host_begin(void);

/* Processes received bytes, and answers as far as there is room. */
void host_poll(void);

/* The button changed; it is reported if the host wants that. */
void host_button_changed(void);

/* The host wants samples. */
bool host_wants_samples(void);

#endif

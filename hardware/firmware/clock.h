/* Device time. Timer0 counts 4 µs steps and makes the PWM of two light pins on the side. */
#ifndef EBBLINE_CLOCK_H
#define EBBLINE_CLOCK_H

#include <stdint.h>

void clock_begin(void);

/* Microseconds since the start, in steps of 4; wraps after 71.6 min. From anywhere, interrupts included. */
uint32_t clock_micros(void);

#endif

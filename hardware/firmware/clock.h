/* Device time. Timer0 counts steps of 4 µs and also makes the PWM of two pins of the light. */
#ifndef EBBLINE_CLOCK_H
#define EBBLINE_CLOCK_H

#include <stdint.h>

void clock_begin(void);

/* Microseconds since the start, in steps of 4; wraps after 71.6 min. May be called from anywhere, also from interrupts. */
uint32_t clock_micros(void);

#endif

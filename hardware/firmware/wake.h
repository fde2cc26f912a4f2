/*
 * What wakes the main loop. Interrupts set a bit here; those after which nothing must be done (a byte was sent, a
 * transfer continues) set none, and the loop sleeps on. The chip has this register for such purposes: setting a bit
 * is one instruction, so no bit is lost between interrupts.
 */
#ifndef EBBLINE_WAKE_H
#define EBBLINE_WAKE_H

#include <avr/io.h>

#define WAKE_CLOCK _BV(0)         /* about once a millisecond */
#define WAKE_CELLS _BV(1)         /* a converter is ready */
#define WAKE_ACCELEROMETER _BV(2) /* it has a reading, or a transfer has ended */
#define WAKE_HOST _BV(3)          /* a byte has come */

/* Called from interrupts. */
#define wake_for(reason) (GPIOR0 |= (reason))

/* To be used with interrupts off: the reasons so far. */
#define wake_reasons() GPIOR0
#define wake_clear() (GPIOR0 = 0)

#endif

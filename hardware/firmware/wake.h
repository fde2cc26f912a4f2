/*
 * What the main loop is woken for. Interrupts leave a bit here; those that need nothing done (a byte has gone out, a
 * transfer goes on) leave none, and the loop sleeps on. The register is the chip's own for such things: setting a bit
 * is one instruction, so nothing gets lost between interrupts.
 */
#ifndef EBBLINE_WAKE_H
#define EBBLINE_WAKE_H

#include <avr/io.h>

#define WAKE_CLOCK _BV(0)         /* about once a millisecond */
#define WAKE_CELLS _BV(1)         /* a converter is ready */
#define WAKE_ACCELEROMETER _BV(2) /* it has a reading, or a transfer has ended */
#define WAKE_HOST _BV(3)          /* a byte has come */

/* From interrupts. */
#define wake_for(reason) (GPIOR0 |= (reason))

/* Taken with interrupts off: the reasons so far, which are then gone. */
#define wake_reasons() GPIOR0
#define wake_clear() (GPIOR0 = 0)

#endif

/* The buzzer: square waves that Timer1 makes on its pin alone. Or, where one is fitted, the motor in the grip: it runs while a beep lasts. */
#ifndef EBBLINE_SOUND_H
#define EBBLINE_SOUND_H

#include "messages.h"

#include <stdbool.h>

/* To be called once, before the others. */
void sound_begin(void);

/* Begins a row of beeps, in place of the one before; frequency, length or number 0 is silence. */
void sound_play(const sound_body *sound);

void sound_stop(void);

/* Goes on with the row; to be called often. */
void sound_poll(void);

/* The motor shakes the cells, or did a moment ago: their loads say nothing. */
bool sound_shakes(void);

#endif

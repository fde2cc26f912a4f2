/* The buzzer: square waves made by Timer1 on its pin. Or, if fitted, the motor in the grip instead, which runs during a beep. */
#ifndef EBBLINE_SOUND_H
#define EBBLINE_SOUND_H

#include "messages.h"

#include <stdbool.h>

/* To be called once, before the others. */
void sound_begin(void);

/* Starts a series of beeps, in place of the one before; 0 as frequency, length or number means silence. */
void sound_play(const sound_body *sound);

void sound_stop(void);

/* Continues the series; to be called often. */
void sound_poll(void);

/* The motor shakes the cells, or did a moment ago: their loads must not be used. */
bool sound_shakes(void);

#endif

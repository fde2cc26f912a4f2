/* The buzzer: square waves that Timer1 makes on its pin alone. */
#ifndef EBBLINE_SOUND_H
#define EBBLINE_SOUND_H

#include "messages.h"

#include <stdbool.h>

/* Begins a row of beeps, in place of the one before; frequency, length or number 0 is silence. */
void sound_play(const sound_body *sound);

void sound_stop(void);

/* Goes on with the row; to be called often. */
void sound_poll(void);

#endif

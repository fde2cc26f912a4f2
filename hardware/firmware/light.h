/* The light: three pins with hardware PWM at 976 Hz. */
#ifndef EBBLINE_LIGHT_H
#define EBBLINE_LIGHT_H

#include <stdint.h>

enum { LIGHT_RED, LIGHT_GREEN, LIGHT_BLUE, LIGHT_COLORS };

void light_begin(void);

/* 0 dark to 255 full; takes effect within a period of the PWM. */
void light_show(const uint8_t duty[LIGHT_COLORS]);

#endif

/* The pins as a Firmata host may use them: the light and the button; all others are the firmware's own. */
#ifndef EBBLINE_PIN_MODES_H
#define EBBLINE_PIN_MODES_H

#include <stdint.h>

/* As after a reset: the light under PWM, the button pulled up. */
void pin_modes_begin(void);

/* What a pin cannot do is passed over. A light's pin goes dark with it, as Firmata hosts expect. */
void pin_set_mode(uint8_t pin, uint8_t mode);

uint8_t pin_mode(uint8_t pin);

/* Level of an output, or 1 for a pull-up that is on. */
uint8_t pin_state(uint8_t pin);

/* 0 to 255; more is taken as 255. */
void pin_write_level(uint8_t pin, uint16_t level);

/* Levels of port 0. It carries all eight pins at once, so those in PWM mode keep theirs. */
void pin_write_port(uint8_t levels);

#endif

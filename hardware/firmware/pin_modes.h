/* Pins that a Firmata host may use: the light and the button; all others belong to the firmware. */
#ifndef EBBLINE_PIN_MODES_H
#define EBBLINE_PIN_MODES_H

#include <stdint.h>

/* As after a reset: PWM for the light, pull-up for the button. */
void pin_modes_begin(void);

/* A mode that a pin cannot have is ignored. Changing the mode turns a light's pin off, as Firmata hosts expect. */
void pin_set_mode(uint8_t pin, uint8_t mode);

uint8_t pin_mode(uint8_t pin);

/* Level of an output, or 1 for a pull-up that is on. */
uint8_t pin_state(uint8_t pin);

/* 0 to 255; more counts as 255. */
void pin_write_level(uint8_t pin, uint16_t level);

/* Levels of port 0. The message has all eight pins, so those in PWM mode keep their level. */
void pin_write_port(uint8_t levels);

#endif

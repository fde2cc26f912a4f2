/* The button, debounced. */
#ifndef EBBLINE_BUTTON_H
#define EBBLINE_BUTTON_H

#include <stdbool.h>

/* Reads the button; true if it was just pressed or released. To be called often. */
bool button_poll(void);

bool button_is_down(void);

#endif

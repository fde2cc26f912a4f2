/* The button, debounced. */
#ifndef EBBLINE_BUTTON_H
#define EBBLINE_BUTTON_H

#include <stdbool.h>

/* Looks at it; true when it was just pressed or let go. To be called often. */
bool button_poll(void);

bool button_is_down(void);

#endif

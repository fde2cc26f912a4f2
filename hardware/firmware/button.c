#include "config.h"

#include "button.h"

#include "clock.h"

#include <avr/io.h>

static bool down;
/* Since `since` the pin differs from the reported state. */
static bool differs;
static uint32_t since;

bool button_poll(void)
{
    const bool now_down = !(PIND & _BV(PIN_BUTTON_BIT));
    if (now_down == down) {
        differs = false;
    } else if (!differs) {
        differs = true;
        since = clock_micros();
    } else if (clock_micros() - since >= BUTTON_DEBOUNCE) {
        down = now_down;
        differs = false;
        return true;
    }
    return false;
}

bool button_is_down(void) { return down; }

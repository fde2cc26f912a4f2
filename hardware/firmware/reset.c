#include "reset.h"

#include <avr/io.h>
#include <avr/wdt.h>

/* Written before variables are initialized, so it must not be one of them. */
static uint8_t flags __attribute__((section(".noinit")));

/*
 * Runs before main. The watchdog is still on after its own reset, and can be switched off only after the flags are
 * cleared. A boot loader may have cleared them already; the usual one then leaves them in r2.
 */
void __attribute__((naked, used, section(".init3"))) keep_reset_flags(void)
{
    uint8_t left_by_loader;
    __asm__ volatile("mov %0, r2" : "=r"(left_by_loader));
    flags = MCUSR;
    if (flags == 0)
        flags = left_by_loader;
    MCUSR = 0;
    wdt_disable();
}

/* Switching on may set the brown-out flag as well. */
enum reset_cause reset_cause(void)
{
    if (flags & _BV(PORF))
        return RESET_POWER;
    if (flags & _BV(BORF))
        return RESET_BROWN_OUT;
    if (flags & _BV(WDRF))
        return RESET_WATCHDOG;
    return RESET_EXTERNAL;
}

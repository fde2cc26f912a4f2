/* Why the chip started. */
#ifndef EBBLINE_RESET_H
#define EBBLINE_RESET_H

#include <stdint.h>

enum reset_cause { RESET_POWER, RESET_BROWN_OUT, RESET_WATCHDOG, RESET_EXTERNAL };

enum reset_cause reset_cause(void);

#endif

/*
 * What the sleeve answers. An answer is only marked as due and sent when there is room beyond what samples need;
 * asked for twice in between, it is sent once.
 */
#ifndef EBBLINE_ANSWERS_H
#define EBBLINE_ANSWERS_H

#include "messages.h"

#include <stdbool.h>
#include <stdint.h>

enum answer {
    ANSWER_VERSION,
    ANSWER_FIRMWARE,
    ANSWER_IDENTITY,
    ANSWER_CAPABILITIES,
    ANSWER_ANALOG_MAPPING,
    ANSWER_BUTTON,
    ANSWER_TEXT,
    ANSWER_PIN_STATE,
    ANSWER_ALONE_STATE,
    ANSWER_ALONE_PART,
    ANSWER_BATTERY
};

void answer_with(enum answer answer);
void answer_pin_state(uint8_t pin);
/* The latest that was asked for. */
void answer_alone_part(const alone_get_body *get);

/* A text comes back as it came, so that a person at a terminal sees that the sleeve hears. `bytes` are Firmata's halves. */
void answer_text(const uint8_t *bytes, uint8_t count);

/* Whether the host is told of the button by itself; it is told at once when it begins. */
void answer_button_reports(bool on);

void answers_poll(void);

#endif

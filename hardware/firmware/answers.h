/*
 * Answers of the sleeve. An answer is marked as due, and sent when there is more room than samples need;
 * if it is asked for twice before, it is sent once.
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
    ANSWER_BATTERY,
    /* How many there are. */
    ANSWERS
};

void answer_with(enum answer answer);
void answer_pin_state(uint8_t pin);
/* Only the latest request is answered. */
void answer_alone_part(const alone_get_body *get);

/* A text is sent back unchanged, so that a person at a terminal sees that the sleeve receives. `bytes` as in Firmata, 7 bits each. */
void answer_text(const uint8_t *bytes, uint8_t count);

/* Whether the button's state is sent without being asked for; it is sent at once when this is turned on. */
void answer_button_reports(bool on);

void answers_poll(void);

#endif

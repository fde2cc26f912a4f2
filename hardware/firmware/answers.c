#include "config.h"

#include "answers.h"

#include "alone.h"
#include "button.h"
#include "frames.h"
#include "line.h"
#include "messages.h"
#include "pin_modes.h"
#include "reset.h"
#include "supply.h"

#include <avr/eeprom.h>
#include <avr/pgmspace.h>
#include <string.h>

/* Room left free for samples that become due while an answer is sent. */
#define SAMPLE_RESERVE (2 * SAMPLE_FRAME_BYTES)
#define TEXT_MOST 32

static const uint8_t capabilities[] PROGMEM = PIN_CAPABILITIES;
static const char name[] PROGMEM = FIRMWARE_NAME;

static uint16_t due;
static alone_get_body asked_part;
static uint32_t pin_states_due;
static uint8_t text[TEXT_MOST];
static uint8_t text_length;
static bool button_reports;

void answer_with(enum answer answer) { due |= 1 << answer; }

void answer_pin_state(uint8_t pin)
{
    if (pin < PIN_COUNT) {
        pin_states_due |= 1UL << pin;
        due |= 1 << ANSWER_PIN_STATE;
    }
}

void answer_text(const uint8_t *bytes, uint8_t count)
{
    if (count == 0 || count > TEXT_MOST || (due & (1 << ANSWER_TEXT)))
        return;
    memcpy(text, bytes, count);
    text_length = count;
    due |= 1 << ANSWER_TEXT;
}

void answer_button_reports(bool on)
{
    button_reports = on;
    if (on)
        answer_with(ANSWER_BUTTON);
    else
        due &= ~(1 << ANSWER_BUTTON);
}

void answer_alone_part(const alone_get_body *get)
{
    asked_part = *get;
    answer_with(ANSWER_ALONE_PART);
}

static bool has_room(uint8_t bytes) { return line_room() >= bytes + SAMPLE_RESERVE; }

static void open(uint8_t command)
{
    line_put(MESSAGE_START);
    line_put(command);
}

static bool send_version(void)
{
    if (!has_room(3))
        return false;
    line_put(0xf9);
    line_put(FIRMATA_MAJOR);
    line_put(FIRMATA_MINOR);
    return true;
}

static bool send_firmware(void)
{
    uint8_t i;
    if (!has_room(3 + 2 + 2 * (sizeof name - 1)))
        return false;
    open(0x79);
    line_put(FIRMWARE_MAJOR);
    line_put(FIRMWARE_MINOR);
    for (i = 0; i < sizeof name - 1; i++) {
        line_put(pgm_read_byte(&name[i]));
        line_put(0);
    }
    line_put(MESSAGE_END);
    return true;
}

static bool send_identity(void)
{
    identity_body body = {
        .contract_version = CONTRACT_VERSION,
        .firmware_version = {FIRMWARE_MAJOR, FIRMWARE_MINOR, FIRMWARE_PATCH},
        .sleeve_number = eeprom_read_dword((const uint32_t *)EEPROM_SLEEVE_NUMBER),
        .reset_cause = reset_cause(),
    };
    if (body.sleeve_number == 0xffffffffUL)
        body.sleeve_number = 0;
    return frame_send(IDENTITY_ID, &body, sizeof body, SAMPLE_RESERVE);
}

static bool send_capabilities(void)
{
    uint8_t i;
    if (!has_room(3 + sizeof capabilities))
        return false;
    open(0x6c);
    for (i = 0; i < sizeof capabilities; i++)
        line_put(pgm_read_byte(&capabilities[i]));
    line_put(MESSAGE_END);
    return true;
}

static bool send_analog_mapping(void)
{
    uint8_t pin;
    if (!has_room(3 + PIN_COUNT))
        return false;
    open(0x6a);
    for (pin = 0; pin < PIN_COUNT; pin++)
        line_put(0x7f);
    line_put(MESSAGE_END);
    return true;
}

/* Port 0: a pin with pull-up is high while the button is not pressed. */
static bool send_button(void)
{
    if (!button_reports)
        return true;
    if (!has_room(3))
        return false;
    line_put(0x90);
    line_put(button_is_down() ? 0 : 1 << PIN_BUTTON);
    line_put(0);
    return true;
}

static bool send_text(void)
{
    uint8_t i;
    if (!has_room(3 + text_length))
        return false;
    open(0x71);
    for (i = 0; i < text_length; i++)
        line_put(text[i]);
    line_put(MESSAGE_END);
    return true;
}

/* One pin at each call. */
static bool send_pin_state(void)
{
    uint8_t pin = 0;
    uint8_t state;
    if (!has_room(7))
        return false;
    while (!(pin_states_due & (1UL << pin)))
        pin++;
    pin_states_due &= ~(1UL << pin);
    state = pin_state(pin);
    open(0x6e);
    line_put(pin);
    line_put(pin_mode(pin));
    line_put(state & 0x7f);
    if (state > 0x7f)
        line_put(state >> 7);
    line_put(MESSAGE_END);
    return pin_states_due == 0;
}

static bool send_alone_state(void)
{
    alone_state_body body;
    alone_state(&body);
    return frame_send(ALONE_STATE_ID, &body, sizeof body, SAMPLE_RESERVE);
}

static bool send_alone_part(void)
{
    alone_part_body body;
    if (!has_room(ALONE_PART_FRAME_BYTES))
        return false;
    if (alone_get(&asked_part, &body))
        frame_send(ALONE_PART_ID, &body, sizeof body, SAMPLE_RESERVE);
    return true;
}

static bool send_battery(void)
{
    const battery_body body = {.millivolts = supply_cell_millivolts()};
    return frame_send(BATTERY_ID, &body, sizeof body, SAMPLE_RESERVE);
}

static bool send(uint8_t answer)
{
    switch (answer) {
    case ANSWER_VERSION:
        return send_version();
    case ANSWER_FIRMWARE:
        return send_firmware();
    case ANSWER_IDENTITY:
        return send_identity();
    case ANSWER_CAPABILITIES:
        return send_capabilities();
    case ANSWER_ANALOG_MAPPING:
        return send_analog_mapping();
    case ANSWER_BUTTON:
        return send_button();
    case ANSWER_TEXT:
        return send_text();
    case ANSWER_ALONE_STATE:
        return send_alone_state();
    case ANSWER_ALONE_PART:
        return send_alone_part();
    case ANSWER_BATTERY:
        return send_battery();
    default:
        return send_pin_state();
    }
}

void answers_poll(void)
{
    uint8_t answer;
    if (due == 0)
        return;
    for (answer = ANSWER_VERSION; answer < ANSWERS; answer++)
        if ((due & (1 << answer)) && send(answer))
            due &= ~(1 << answer);
}

#include "config.h"

#include "pin_modes.h"

#include "guidance.h"

enum mode { MODE_INPUT = 0, MODE_OUTPUT = 1, MODE_PWM = 3, MODE_PULLUP = 11, MODE_NONE = 0x7f };

static uint8_t light_mode[LIGHT_COLORS];
static uint8_t button_mode;

static uint8_t color_of(uint8_t pin)
{
    switch (pin) {
    case PIN_LIGHT_RED:
        return LIGHT_RED;
    case PIN_LIGHT_GREEN:
        return LIGHT_GREEN;
    case PIN_LIGHT_BLUE:
        return LIGHT_BLUE;
    default:
        return LIGHT_COLORS;
    }
}

void pin_modes_begin(void)
{
    uint8_t color;
    for (color = 0; color < LIGHT_COLORS; color++)
        light_mode[color] = MODE_PWM;
    button_mode = MODE_PULLUP;
}

void pin_set_mode(uint8_t pin, uint8_t mode)
{
    const uint8_t color = color_of(pin);
    if (color < LIGHT_COLORS && (mode == MODE_OUTPUT || mode == MODE_PWM)) {
        light_mode[color] = mode;
        guidance_light(color, 0);
    } else if (pin == PIN_BUTTON && (mode == MODE_INPUT || mode == MODE_PULLUP)) {
        /* The pull-up stays on in both modes. */
        button_mode = mode;
    }
}

uint8_t pin_mode(uint8_t pin)
{
    const uint8_t color = color_of(pin);
    return color < LIGHT_COLORS ? light_mode[color] : pin == PIN_BUTTON ? button_mode : MODE_NONE;
}

uint8_t pin_state(uint8_t pin)
{
    const uint8_t color = color_of(pin);
    return color < LIGHT_COLORS ? guidance_duty(color) : pin == PIN_BUTTON && button_mode == MODE_PULLUP;
}

void pin_write_level(uint8_t pin, uint16_t level)
{
    const uint8_t color = color_of(pin);
    if (color < LIGHT_COLORS)
        guidance_light(color, level > 255 ? 255 : level);
}

void pin_write_port(uint8_t levels)
{
    static const uint8_t pins[LIGHT_COLORS] = {PIN_LIGHT_RED, PIN_LIGHT_GREEN, PIN_LIGHT_BLUE};
    uint8_t color;
    for (color = 0; color < LIGHT_COLORS; color++)
        if (light_mode[color] == MODE_OUTPUT)
            guidance_light(color, levels & (1 << pins[color]) ? 255 : 0);
}

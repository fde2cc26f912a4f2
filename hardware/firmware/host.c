#include "config.h"

#include "host.h"

#include "alone.h"
#include "answers.h"
#include "frames.h"
#include "guidance.h"
#include "line.h"
#include "messages.h"
#include "pin_modes.h"
#include "sound.h"

/* Commands with a port or pin in their low half. */
#define DIGITAL_PORT 0x90
#define REPORT_ANALOG 0xc0
#define REPORT_DIGITAL 0xd0
#define ANALOG 0xe0
/* Others. */
#define PIN_MODE 0xf4
#define DIGITAL_PIN 0xf5
#define PROTOCOL_VERSION 0xf9
#define SYSTEM_RESET 0xff
/* Inside F0 … F7. */
#define ANALOG_MAPPING_QUERY 0x69
#define CAPABILITY_QUERY 0x6b
#define PIN_STATE_QUERY 0x6d
#define EXTENDED_ANALOG 0x6f
#define STRING 0x71
#define FIRMWARE 0x79

/* Longer messages are ignored. Firmata hosts expect at least 64 bytes. */
#define MESSAGE_MOST 66
/* At most this many bytes are processed before the rest of the program runs. */
#define BYTES_A_TURN 32

static uint8_t message[MESSAGE_MOST];
/* Bytes of the open message so far; 0 if none is open. */
static uint8_t length;
static bool streaming = true;

/* Length of a message by its first byte; 0: up to its end mark, 1: it has no more bytes. */
static uint8_t expected_length(uint8_t command)
{
    switch (command < 0xf0 ? command & 0xf0 : command) {
    case MESSAGE_START:
        return 0;
    case REPORT_ANALOG:
    case REPORT_DIGITAL:
        return 2;
    case DIGITAL_PORT:
    case ANALOG:
    case PIN_MODE:
    case DIGITAL_PIN:
        return 3;
    default:
        return 1;
    }
}

/* `bytes`: the body, after the command and before F7. */
static void take_sysex(uint8_t command, const uint8_t *bytes, uint8_t count)
{
    union {
        stream_body stream;
        sound_body sound;
        heartbeat_body heartbeat;
        alone_put_body put;
        alone_order_body order;
        alone_get_body get;
    } body;
    switch (command) {
    case IDENTITY_ID:
        /* No body, or only the checksum of an empty one. */
        if (count == 0 || frame_read(&body, 0, bytes, count))
            answer_with(ANSWER_IDENTITY);
        break;
    case STREAM_ID:
        if (frame_read(&body, STREAM_BODY_BYTES, bytes, count))
            streaming = body.stream.on != 0;
        break;
    case SOUND_ID:
        if (frame_read(&body, SOUND_BODY_BYTES, bytes, count))
            guidance_sound(&body.sound);
        break;
    case HEARTBEAT_ID:
        if (frame_read(&body, HEARTBEAT_BODY_BYTES, bytes, count))
            guidance_heartbeat(body.heartbeat.guidance_on != 0);
        break;
    case ALONE_STATE_ID:
        if (count == 0 || frame_read(&body, 0, bytes, count))
            answer_with(ANSWER_ALONE_STATE);
        break;
    case BATTERY_ID:
        if (count == 0 || frame_read(&body, 0, bytes, count))
            answer_with(ANSWER_BATTERY);
        break;
    case ALONE_PUT_ID:
        if (frame_read(&body, ALONE_PUT_BODY_BYTES, bytes, count))
            alone_put(&body.put);
        break;
    case ALONE_ORDER_ID:
        if (frame_read(&body, ALONE_ORDER_BODY_BYTES, bytes, count))
            alone_order(&body.order);
        break;
    case ALONE_GET_ID:
        if (frame_read(&body, ALONE_GET_BODY_BYTES, bytes, count))
            answer_alone_part(&body.get);
        break;
    case ANALOG_MAPPING_QUERY:
        answer_with(ANSWER_ANALOG_MAPPING);
        break;
    case CAPABILITY_QUERY:
        answer_with(ANSWER_CAPABILITIES);
        break;
    case PIN_STATE_QUERY:
        if (count == 1)
            answer_pin_state(bytes[0]);
        break;
    case EXTENDED_ANALOG:
        if (count >= 2)
            pin_write_level(bytes[0], count == 2 ? bytes[1] : bytes[1] | (uint16_t)bytes[2] << 7);
        break;
    case STRING:
        answer_text(bytes, count);
        break;
    case FIRMWARE:
        answer_with(ANSWER_FIRMWARE);
        break;
    }
}

static void reset_all(void)
{
    uint8_t color;
    pin_modes_begin();
    streaming = true;
    answer_button_reports(false);
    sound_stop();
    guidance_new_host();
    for (color = 0; color < LIGHT_COLORS; color++)
        guidance_light(color, 0);
}

static void take_short(void)
{
    const uint8_t first = message[1];
    const uint16_t wide = first | (uint16_t)message[2] << 7;
    const uint8_t low = message[0] & 0x0f;
    switch (message[0] < 0xf0 ? message[0] & 0xf0 : message[0]) {
    case DIGITAL_PORT:
        if (low == 0)
            pin_write_port(wide & 0xff);
        break;
    case REPORT_DIGITAL:
        if (low == 0)
            answer_button_reports(first != 0);
        break;
    case ANALOG:
        pin_write_level(low, wide);
        break;
    case PIN_MODE:
        pin_set_mode(first, message[2]);
        break;
    case DIGITAL_PIN:
        pin_write_level(first, message[2] ? 255 : 0);
        break;
    }
}

static void take(uint8_t byte)
{
    if (byte == MESSAGE_END) {
        if (length >= 2 && message[0] == MESSAGE_START)
            take_sysex(message[1], message + 2, length - 2);
        length = 0;
    } else if (byte & 0x80) {
        /* A command byte starts a new message, even if one was open. */
        length = 0;
        if (byte == PROTOCOL_VERSION)
            answer_with(ANSWER_VERSION);
        else if (byte == SYSTEM_RESET)
            reset_all();
        else if (expected_length(byte) != 1)
            message[length++] = byte;
    } else if (length > 0) {
        if (length == MESSAGE_MOST) {
            length = 0;
            return;
        }
        message[length++] = byte;
        if (length == expected_length(message[0])) {
            take_short();
            length = 0;
        }
    }
}

void host_begin(void)
{
    pin_modes_begin();
    answer_with(ANSWER_VERSION);
    answer_with(ANSWER_FIRMWARE);
    answer_with(ANSWER_IDENTITY);
}

void host_poll(void)
{
    uint8_t byte, taken;
    for (taken = 0; taken < BYTES_A_TURN && line_get(&byte); taken++)
        take(byte);
    answers_poll();
}

void host_button_changed(void) { answer_with(ANSWER_BUTTON); }

bool host_wants_samples(void) { return streaming; }

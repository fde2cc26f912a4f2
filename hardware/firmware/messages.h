/* Generated from firmware-bridge/wire/messages.ts by "npm run gen"; do not edit. */
#ifndef EBBLINE_MESSAGES_H
#define EBBLINE_MESSAGES_H

#include <stdint.h>

/*
 * The sleeve's own messages (sleeve contract, section 2): F0, command, body with checksum packed 7 bits to a byte, F7.
 * Bodies are little-endian without gaps, as the chip itself lays them out.
 */
#define CONTRACT_VERSION 2
#define CRC_BYTES 2

/* A signed 24-bit number, lowest byte first. */
typedef struct {
    uint8_t byte[3];
} wire_i24;

/* One reading of all cells and of the accelerometer, nominally 80 a second while streaming. */
#define SAMPLE_ID 0x01
#define SAMPLE_BODY_BYTES 22
#define SAMPLE_FRAME_BYTES 31
typedef struct __attribute__((packed)) {
    uint16_t sequence; /* one more for each sample; wraps */
    uint32_t time_micros; /* µs: device time at which the last of the three cells became ready; wraps every 71.6 min */
    wire_i24 cells[3]; /* counts: axial, front and rear load cell */
    int16_t accelerometer[3]; /* 1/8192 g: specific force along x, y, z, the latest reading */
    uint8_t flags; /* what is wrong or new; a flagged field is not used */
} sample_body;
_Static_assert(sizeof(sample_body) == SAMPLE_BODY_BYTES, "sample_body must have no gaps");
#define SAMPLE_AXIAL_CELL_FAULT 0x01 /* axial cell saturated or silent */
#define SAMPLE_FRONT_CELL_FAULT 0x02 /* front cell saturated or silent */
#define SAMPLE_REAR_CELL_FAULT 0x04 /* rear cell saturated or silent */
#define SAMPLE_ACCELEROMETER_FAULT 0x08 /* accelerometer fault */
#define SAMPLE_SAMPLES_LOST 0x10 /* samples were lost before this one */
#define SAMPLE_BUTTON_DOWN 0x20 /* button down */
#define SAMPLE_SUPPLY_LOW 0x40 /* supply low */
#define SAMPLE_FIRST_AFTER_RESET 0x80 /* first sample after a reset */

/* Who the sleeve is: in answer to the host, and once after each reset. */
#define IDENTITY_ID 0x02
#define IDENTITY_BODY_BYTES 9
#define IDENTITY_FRAME_BYTES 16
typedef struct __attribute__((packed)) {
    uint8_t contract_version; /* version of the sleeve contract */
    uint8_t firmware_version[3]; /* firmware version: major, minor, patch */
    uint32_t sleeve_number; /* number of this sleeve */
    uint8_t reset_cause; /* why it last reset: 0 power, 1 brown-out, 2 watchdog, 3 external */
} identity_body;
_Static_assert(sizeof(identity_body) == IDENTITY_BODY_BYTES, "identity_body must have no gaps");

/* Turns the stream of samples on or off; it is on after a reset. */
#define STREAM_ID 0x03
#define STREAM_BODY_BYTES 1
#define STREAM_FRAME_BYTES 7
typedef struct __attribute__((packed)) {
    uint8_t on; /* 0 off, 1 on */
} stream_body;
_Static_assert(sizeof(stream_body) == STREAM_BODY_BYTES, "stream_body must have no gaps");

/* Beeps, made by a hardware timer of the sleeve. */
#define SOUND_ID 0x04
#define SOUND_BODY_BYTES 7
#define SOUND_FRAME_BYTES 14
typedef struct __attribute__((packed)) {
    uint16_t frequency_hz; /* Hz: pitch; 0 is silence */
    uint16_t on_ms; /* ms: length of each beep */
    uint16_t off_ms; /* ms: silence after each beep */
    uint8_t repeats; /* number of beeps */
} sound_body;
_Static_assert(sizeof(sound_body) == SOUND_BODY_BYTES, "sound_body must have no gaps");

/* Sent at least once a second. After 2 s without one, and at once when it says off, the sleeve silences the buzzer, shows "no guidance" on the light and takes no light or sound. */
#define HEARTBEAT_ID 0x05
#define HEARTBEAT_BODY_BYTES 1
#define HEARTBEAT_FRAME_BYTES 7
typedef struct __attribute__((packed)) {
    uint8_t guidance_on; /* 1 guidance on, 0 off */
} heartbeat_body;
_Static_assert(sizeof(heartbeat_body) == HEARTBEAT_BODY_BYTES, "heartbeat_body must have no gaps");

/* How the sleeve turns: right after the SAMPLE it belongs to. A sleeve without a gyroscope sends none. */
#define MOTION_ID 0x06
#define MOTION_BODY_BYTES 8
#define MOTION_FRAME_BYTES 15
typedef struct __attribute__((packed)) {
    uint16_t sequence; /* sequence of the SAMPLE it belongs to */
    int16_t gyroscope[3]; /* 1/65.5 °/s: angular velocity about x, y, z, right-handed, read together with the accelerometer */
} motion_body;
_Static_assert(sizeof(motion_body) == MOTION_BODY_BYTES, "motion_body must have no gaps");

/* A part of what a sleeve needs to guide on its own (calibration, pace, checksum), for its spare place; taken only from its owner. It answers with ALONE_STATE. */
#define ALONE_PUT_ID 0x07
#define ALONE_PUT_BODY_BYTES 37
#define ALONE_PUT_FRAME_BYTES 48
typedef struct __attribute__((packed)) {
    uint32_t owner; /* key of the owner */
    uint8_t part; /* which 32 bytes, from 0 on and in their order */
    uint8_t bytes[32]; /* the part */
} alone_put_body;
_Static_assert(sizeof(alone_put_body) == ALONE_PUT_BODY_BYTES, "alone_put_body must have no gaps");

/* What the owner wants; the sleeve answers with ALONE_STATE. A sleeve without an owner, or with its button held down, takes a new one. */
#define ALONE_ORDER_ID 0x08
#define ALONE_ORDER_BODY_BYTES 5
#define ALONE_ORDER_FRAME_BYTES 11
typedef struct __attribute__((packed)) {
    uint32_t owner; /* key of the owner, not 0 and not all ones */
    uint8_t order; /* 0 never guide alone, 1 guide alone, 2 this is the owner, 3 the kept feeds were fetched */
} alone_order_body;
_Static_assert(sizeof(alone_order_body) == ALONE_ORDER_BODY_BYTES, "alone_order_body must have no gaps");

/* How a sleeve stands that can guide on its own; others do not answer. */
#define ALONE_STATE_ID 0x09
#define ALONE_STATE_BODY_BYTES 8
#define ALONE_STATE_FRAME_BYTES 15
typedef struct __attribute__((packed)) {
    uint8_t layout; /* layout of what it keeps */
    uint8_t flags; /* what holds now */
    uint8_t generation; /* of what it keeps; the next one is one more */
    uint8_t parts; /* how many parts of a new one are written */
    uint8_t refused; /* why it last refused: 0 not, 1 not the owner, 2 another layout, 3 another sleeve, 4 damaged, 5 out of order, 6 not to be paced */
    uint8_t feeds; /* how many feeds it has kept */
    uint16_t checksum; /* of what it keeps; 0 without */
} alone_state_body;
_Static_assert(sizeof(alone_state_body) == ALONE_STATE_BODY_BYTES, "alone_state_body must have no gaps");
#define ALONE_STATE_IS_READY 0x01 /* what it keeps is whole and its own */
#define ALONE_STATE_IS_ON 0x02 /* an owner has turned it on */
#define ALONE_STATE_IS_OWNED 0x04 /* it has an owner */
#define ALONE_STATE_IS_BUSY 0x08 /* it is writing: send the next part later */
#define ALONE_STATE_IS_ALONE 0x10 /* it guides by itself at this moment */

/* The owner asks for a part of what the sleeve keeps; it answers with ALONE_PART. */
#define ALONE_GET_ID 0x0a
#define ALONE_GET_BODY_BYTES 6
#define ALONE_GET_FRAME_BYTES 13
typedef struct __attribute__((packed)) {
    uint32_t owner; /* key of the owner */
    uint8_t what; /* 0 calibration and pace, 1 kept feeds */
    uint8_t part; /* which 32 bytes */
} alone_get_body;
_Static_assert(sizeof(alone_get_body) == ALONE_GET_BODY_BYTES, "alone_get_body must have no gaps");

/* A part of what the sleeve keeps. */
#define ALONE_PART_ID 0x0b
#define ALONE_PART_BODY_BYTES 34
#define ALONE_PART_FRAME_BYTES 45
typedef struct __attribute__((packed)) {
    uint8_t what; /* as asked for */
    uint8_t part; /* as asked for */
    uint8_t bytes[32]; /* the part */
} alone_part_body;
_Static_assert(sizeof(alone_part_body) == ALONE_PART_BODY_BYTES, "alone_part_body must have no gaps");

/* What the battery’s cell shows; a sleeve that does not measure it does not answer. */
#define BATTERY_ID 0x0c
#define BATTERY_BODY_BYTES 2
#define BATTERY_FRAME_BYTES 8
typedef struct __attribute__((packed)) {
    uint16_t millivolts; /* mV: of the cell, mean of some 40 s; 0 before the first reading */
} battery_body;
_Static_assert(sizeof(battery_body) == BATTERY_BODY_BYTES, "battery_body must have no gaps");

#endif

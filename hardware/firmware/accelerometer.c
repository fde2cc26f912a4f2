#include "config.h"

#include "accelerometer.h"

#include "clock.h"
#include "i2c.h"
#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <string.h>

/* Register map, section 4: number and meaning of each register. */
#define SMPLRT_DIV 0x19
#define CONFIG 0x1a
#define GYRO_CONFIG 0x1b
#define ACCEL_CONFIG 0x1c
#define INT_PIN_CFG 0x37
#define INT_ENABLE 0x38
#define ACCEL_XOUT_H 0x3b
#define PWR_MGMT_1 0x6b
#define PWR_MGMT_2 0x6c
#define WHO_AM_I 0x75

/* WHO_AM_I of the chip with a gyroscope, whatever its address pin. */
#define WITH_GYROSCOPE 0x68
/* From register ACCEL_XOUT_H on: three axes; then the temperature, then three axes of the gyroscope. */
#define ACCEL_BYTES 6
#define GYRO_OFFSET 8
#define ALL_BYTES 14

static const struct {
    uint8_t reg, byte;
} setup[] = {
    {PWR_MGMT_1, 0x80},   /* reset, which takes up to 100 ms; then it sleeps */
    {PWR_MGMT_1, 0x01},   /* awake; clock of a gyroscope, as the register map recommends */
    {PWR_MGMT_2, 0x00},   /* all axes on */
    {CONFIG, 0x03},       /* low pass 44 Hz (gyroscope 42 Hz; both lag by 4.8 or 4.9 ms), sampled at 1 kHz */
    {SMPLRT_DIV, 0x04},   /* 1 kHz / (1 + 4) = 200 readings a second */
    {GYRO_CONFIG, 0x08},  /* ±500 °/s: 65.5 counts per °/s */
    {ACCEL_CONFIG, 0x08}, /* ±4 g: 8192 counts per g */
    {INT_PIN_CFG, 0x00},  /* a pulse of 50 µs, high, on a driven pin */
    {INT_ENABLE, 0x01},   /* at each reading */
};
#define SETUP_STEPS (sizeof setup / sizeof setup[0])
#define IDENTIFY SETUP_STEPS
#define READY (SETUP_STEPS + 1)

static uint8_t step;          /* of the set-up; then WHO_AM_I, then READY */
static bool waiting;          /* no transfer before `moment` */
static uint32_t moment;
static volatile bool is_due;  /* it has a new reading */
static bool under_way;        /* a transfer is running */
static uint32_t changed;      /* when a transfer began or ended */
static uint32_t heard;        /* time of the last set-up or reading */
static bool has_reading;
static uint32_t latest_micros;
static int16_t latest[3];
static bool has_gyroscope;
static uint8_t swinging_in;   /* readings until a gyroscope just switched on is usable */
static int16_t latest_turn[3];
static uint8_t same_turn;     /* as below */
static uint8_t same;          /* equal readings in a row */
static uint8_t same_since_setup;

ISR(INT0_vect)
{
    is_due = true;
    wake_for(WAKE_ACCELEROMETER);
}

static void wait(uint32_t now, uint32_t micros)
{
    waiting = true;
    moment = now + micros;
}

static void start_over(uint32_t now)
{
    i2c_recover();
    step = 0;
    under_way = false;
    is_due = false;
    wait(now, ACCEL_RETRY);
}

void accelerometer_begin(bool just_powered)
{
    i2c_begin();
    EICRA = _BV(ISC01) | _BV(ISC00); /* rising edge */
    EIFR = _BV(INTF0);
    EIMSK = _BV(INT0);
    if (just_powered) {
        wait(clock_micros(), ACCEL_START_WAIT);
    } else {
        /* It ran on while the chip was reset: set up again without a reset of its own. A transfer may have been interrupted. */
        i2c_recover();
        step = 1;
    }
}

static const uint8_t chip_axis[3] = MOTION_AXES;

/* Converts the chip's axes to the sleeve's, high byte first. */
static void axes_from(const uint8_t bytes[6], int16_t axes[3])
{
    uint8_t i;
    for (i = 0; i < 3; i++) {
        const uint8_t *axis = bytes + 2 * chip_axis[i];
        axes[i] = (int16_t)((uint16_t)axis[0] << 8 | axis[1]);
    }
}

static void take_turn(const uint8_t bytes[6])
{
    int16_t axes[3];
    axes_from(bytes, axes);
    if (memcmp(axes, latest_turn, sizeof latest_turn) != 0)
        same_turn = 0;
    else if (same_turn < ACCEL_STUCK_READINGS)
        same_turn++;
    memcpy(latest_turn, axes, sizeof latest_turn);
    if (swinging_in)
        swinging_in--;
}

static void take(const uint8_t bytes[ALL_BYTES], uint32_t now)
{
    int16_t axes[3];
    axes_from(bytes, axes);
    if (has_gyroscope)
        take_turn(bytes + GYRO_OFFSET);
    if (has_reading && memcmp(axes, latest, sizeof latest) == 0) {
        if (same < ACCEL_STUCK_READINGS)
            same++;
        if (same_since_setup < ACCEL_STUCK_READINGS)
            same_since_setup++;
    } else {
        same = same_since_setup = 0;
    }
    memcpy(latest, axes, sizeof latest);
    latest_micros = now;
    has_reading = true;
}

static void finish(uint32_t now)
{
    uint8_t bytes[ALL_BYTES];
    const enum i2c_state state = i2c_poll(bytes, sizeof bytes);
    if (state == I2C_BUSY) {
        if (now - changed > ACCEL_TRANSFER_LIMIT)
            start_over(now);
        return;
    }
    under_way = false;
    changed = heard = now;
    /* During its reset it may not acknowledge; the next step shows whether it is there at all. */
    if (state != I2C_DONE && step != 0) {
        start_over(now);
    } else if (step < SETUP_STEPS) {
        if (step == 0)
            wait(now, ACCEL_START_WAIT);
        step++;
        same_since_setup = 0;
        /* Interrupts from before its reset do not count. */
        is_due = false;
    } else if (step == IDENTIFY) {
        has_gyroscope = bytes[0] == WITH_GYROSCOPE;
        swinging_in = GYRO_START_READINGS;
        step = READY;
    } else {
        take(bytes, now);
    }
}

/* The stop of the transfer before may still be on the way; if it does not end, the bus is blocked. */
static void began(bool begun, uint32_t now)
{
    if (begun) {
        under_way = true;
        changed = now;
    } else if (now - changed > ACCEL_TRANSFER_LIMIT) {
        start_over(now);
    }
}

void accelerometer_poll(void)
{
    const uint32_t now = clock_micros();
    if (under_way)
        finish(now);
    if (under_way)
        return;
    if (waiting) {
        if ((int32_t)(now - moment) < 0)
            return;
        waiting = false;
        changed = now;
    }
    if (step < SETUP_STEPS) {
        began(i2c_write(ACCEL_ADDRESS, setup[step].reg, setup[step].byte), now);
    } else if (step == IDENTIFY) {
        began(i2c_read(ACCEL_ADDRESS, WHO_AM_I, 1), now);
    } else if (is_due) {
        began(i2c_read(ACCEL_ADDRESS, ACCEL_XOUT_H, has_gyroscope ? ALL_BYTES : ACCEL_BYTES), now);
        is_due = !under_way;
    } else if (now - heard > ACCEL_RETRY || same_since_setup >= ACCEL_STUCK_READINGS) {
        start_over(now);
    }
}

static bool is_good(void)
{
    return has_reading && same < ACCEL_STUCK_READINGS && clock_micros() - latest_micros <= ACCEL_SILENT;
}

bool accelerometer_latest(int16_t axes[3])
{
    memcpy(axes, latest, sizeof latest);
    return is_good();
}

bool gyroscope_latest(int16_t axes[3])
{
    memcpy(axes, latest_turn, sizeof latest_turn);
    return has_gyroscope && step == READY && !swinging_in && same_turn < ACCEL_STUCK_READINGS && is_good();
}

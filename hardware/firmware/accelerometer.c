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
#define ACCEL_CONFIG 0x1c
#define INT_PIN_CFG 0x37
#define INT_ENABLE 0x38
#define ACCEL_XOUT_H 0x3b
#define PWR_MGMT_1 0x6b
#define PWR_MGMT_2 0x6c

static const struct {
    uint8_t reg, byte;
} setup[] = {
    {PWR_MGMT_1, 0x80},   /* reset, which takes up to 100 ms; then it sleeps */
    {PWR_MGMT_1, 0x00},   /* awake, on its own oscillator */
    {PWR_MGMT_2, 0x07},   /* gyroscopes off: they are not needed and take most of the current */
    {CONFIG, 0x03},       /* low pass 44 Hz, sampled at 1 kHz */
    {SMPLRT_DIV, 0x04},   /* 1 kHz / (1 + 4) = 200 readings a second */
    {ACCEL_CONFIG, 0x08}, /* ±4 g: 8192 counts per g */
    {INT_PIN_CFG, 0x00},  /* a pulse of 50 µs, high, on a driven pin */
    {INT_ENABLE, 0x01},   /* at each reading */
};
#define SETUP_STEPS (sizeof setup / sizeof setup[0])

static uint8_t step;          /* of the set-up; all done when SETUP_STEPS */
static bool waiting;          /* nothing is asked of it until `moment` */
static uint32_t moment;
static volatile bool is_due;  /* it has a new reading */
static bool under_way;        /* a transfer */
static uint32_t changed;      /* when a transfer began or ended */
static uint32_t heard;        /* when it was last set up or read */
static bool has_reading;
static uint32_t latest_micros;
static int16_t latest[3];
static uint8_t same;          /* readings in a row that did not differ in the least */
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
        /* It has run on while the chip was reset: set up again in passing. A transfer may have been cut off. */
        i2c_recover();
        step = 1;
    }
}

static void take(const uint8_t bytes[6], uint32_t now)
{
    int16_t axes[3];
    uint8_t i;
    /* High byte first. */
    for (i = 0; i < 3; i++)
        axes[i] = (int16_t)((uint16_t)bytes[2 * i] << 8 | bytes[2 * i + 1]);
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
    uint8_t bytes[6];
    const enum i2c_state state = i2c_poll(bytes, sizeof bytes);
    if (state == I2C_BUSY) {
        if (now - changed > ACCEL_TRANSFER_LIMIT)
            start_over(now);
        return;
    }
    under_way = false;
    changed = heard = now;
    /* It may be gone before it has acknowledged its reset; whether it is there at all shows in the next step. */
    if (state != I2C_DONE && step != 0) {
        start_over(now);
    } else if (step < SETUP_STEPS) {
        if (step == 0)
            wait(now, ACCEL_START_WAIT);
        step++;
        same_since_setup = 0;
        /* Whatever it called before its reset is gone. */
        is_due = false;
    } else {
        take(bytes, now);
    }
}

/* The stop of the transfer before may still be going out; if it does not end, the bus is held. */
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
    } else if (is_due) {
        began(i2c_read(ACCEL_ADDRESS, ACCEL_XOUT_H, 6), now);
        is_due = !under_way;
    } else if (now - heard > ACCEL_RETRY || same_since_setup >= ACCEL_STUCK_READINGS) {
        start_over(now);
    }
}

bool accelerometer_latest(int16_t axes[3])
{
    memcpy(axes, latest, sizeof latest);
    return has_reading && same < ACCEL_STUCK_READINGS && clock_micros() - latest_micros <= ACCEL_SILENT;
}
